//! Loading and running.

use std::sync::Arc;

use groundrule_site::Site;
use wasmtime::Engine;
use wasmtime::component::Linker;

use crate::bindings::{RuleModulePre, checks};
use crate::cache::{self, CodeCache};
use crate::engine::{self, Watch};
use crate::session::{Broken, Session};
use crate::state::State;
use crate::stop::Stop;
use crate::text::{cut, neutral};
use crate::{Blame, CheckInfo, Failure, Limits, Reading, Task, host, interface, readings};

/// The longest name of a module or version in a blame, in bytes.
const NAME: usize = 80;
/// Stack that every thread is taken to have; a run with a higher stack limit gets a thread of its own.
const ORDINARY_STACK: usize = 1 << 20;

/// The engine every module runs on.
pub struct Sandbox {
    engine: Engine,
    linker: Linker<State>,
    limits: Limits,
    cache: Option<Box<dyn CodeCache>>,
    watch: Arc<Watch>,
}

/// A loaded module. It may be run on many threads at once; no run sees another.
pub struct Module {
    engine: Engine,
    code: RuleModulePre<State>,
    limits: Limits,
    name: String,
    version: String,
    checks: Vec<CheckInfo>,
    // Keeps the safety net alive as long as anything can run.
    _watch: Arc<Watch>,
}

impl Sandbox {
    /// An engine with these limits. Without a cache, every module is compiled each time.
    pub fn new(limits: Limits, cache: Option<Box<dyn CodeCache>>) -> Result<Self, Blame> {
        let setup = |cause: String| Blame {
            module: "(none)".to_owned(),
            version: None,
            rule: None,
            failure: Failure::Setup,
            message: format!("The engine that runs rule modules cannot start: {cause}."),
            fuel_used: None,
        };
        let engine = engine::build(&limits).map_err(|error| setup(format!("{error:#}")))?;
        let linker = host::linker(&engine).map_err(|error| setup(format!("{error:#}")))?;
        let watch = Watch::start(&engine).map_err(|error| setup(error.to_string()))?;
        Ok(Self { engine, linker, limits, cache, watch: Arc::new(watch) })
    }

    /// The limits in force.
    pub fn limits(&self) -> &Limits {
        &self.limits
    }

    /// Loads a module: reads its interface version first, then compiles it or takes it from the cache, then
    /// asks it for its version and checks.
    pub fn load(&self, name: &str, bytes: &[u8]) -> Result<Module, Blame> {
        let name = neutral(cut(name, NAME));
        let blame = |stop: Stop, version: Option<String>, fuel_used| Blame {
            module: name.clone(),
            version,
            rule: None,
            failure: stop.failure,
            message: stop.message,
            fuel_used,
        };
        let code = self.prepare(bytes).map_err(|stop| blame(stop, None, None))?;
        let (version, told) = on_stack(self.limits.stack, || self.ask(&code))
            .and_then(|told| told)
            .map_err(|broken| blame(broken.stop, None, Some(broken.fuel_used)))?;
        let checks = readings::describe(told, &self.limits)
            .map_err(|stop| blame(stop, Some(version.clone()), None))?;
        Ok(Module {
            engine: self.engine.clone(),
            code,
            limits: self.limits,
            name,
            version,
            checks,
            _watch: Arc::clone(&self.watch),
        })
    }

    /// Code ready to be started.
    fn prepare(&self, bytes: &[u8]) -> Result<RuleModulePre<State>, Stop> {
        if bytes.len() > self.limits.module {
            return Err(Stop::new(
                Failure::NotAModule,
                format!("It has {} bytes; the module limit is {}.", bytes.len(), self.limits.module),
            ));
        }
        interface::check(bytes)?;
        let component = cache::component(&self.engine, self.cache.as_deref(), bytes).map_err(|_| {
            Stop::new(
                Failure::NotAModule,
                "It is damaged, or uses WebAssembly features that rule modules may not: threads, relaxed SIMD, garbage collection, exceptions, 64-bit or several memories.",
            )
        })?;
        self.linker.instantiate_pre(&component).and_then(RuleModulePre::new).map_err(|_| {
            Stop::new(
                Failure::ForeignImport,
                "It names an interface this program knows, but with other functions or types; build it again with the interface files of that version.",
            )
        })
    }

    /// The version and checks a module states.
    fn ask(&self, code: &RuleModulePre<State>) -> Result<(String, Vec<checks::CheckInfo>), Broken> {
        let mut session = Session::start(&self.engine, code, State::new(self.limits, None))?;
        let version = session.call(|module, store| module.groundrule_rules_checks().call_version(store))?;
        let told = session.call(|module, store| module.groundrule_rules_checks().call_describe(store))?;
        Ok((neutral(cut(&version, NAME)), told))
    }
}

impl Module {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its version, as it states it.
    pub fn version(&self) -> &str {
        &self.version
    }

    /// The checks it offers.
    pub fn checks(&self) -> &[CheckInfo] {
        &self.checks
    }

    /// Runs one check in a fresh store. The readings come with the fuel that was used.
    ///
    /// Every subject of the task has a reading with that subject first, every amount is of the check's
    /// dimension and lacks nothing, and every text is harmless to show.
    pub fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame> {
        on_stack(self.limits.stack, || self.run_here(site, task)).and_then(|done| done).map_err(|broken| {
            Blame {
                module: self.name.clone(),
                version: Some(self.version.clone()),
                rule: Some(neutral(&task.rule)),
                failure: broken.stop.failure,
                message: broken.stop.message,
                fuel_used: Some(broken.fuel_used),
            }
        })
    }

    fn run_here(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Broken> {
        let check = self.check(&task.check).map_err(|stop| Broken { stop, fuel_used: 0 })?;
        let state = State::new(self.limits, Some((Arc::clone(site), task.clone())));
        let mut session = Session::start(&self.engine, &self.code, state)?;
        let returned =
            session.call(|module, store| module.groundrule_rules_checks().call_run(store, &task.check))?;
        let units = returned.as_ref().map_or(0, |list| readings::cost_of(list));
        let accepted = session.finish(units, |state| match returned {
            Ok(list) => readings::accept(state, check, list),
            Err(words) => Err(Stop::new(Failure::Refused, neutral(cut(&words, state.limits.text)))),
        })?;
        Ok((accepted, session.fuel_used()))
    }

    fn check(&self, name: &str) -> Result<&CheckInfo, Stop> {
        self.checks.iter().find(|check| check.name == name).ok_or_else(|| {
            let offered = self.checks.iter().map(|check| check.name.as_str()).collect::<Vec<_>>().join(", ");
            Stop::new(
                Failure::Refused,
                format!("It has no check '{}'; it offers {offered}.", neutral(cut(name, NAME))),
            )
        })
    }
}

/// Runs work on a thread whose stack is sure to be deeper than the limit: if the thread's own stack ended
/// first, the whole program would.
fn on_stack<T: Send>(limit: usize, work: impl FnOnce() -> T + Send) -> Result<T, Broken> {
    if limit <= ORDINARY_STACK {
        return Ok(work());
    }
    std::thread::scope(|scope| {
        std::thread::Builder::new()
            .stack_size(limit.saturating_add(ORDINARY_STACK))
            .spawn_scoped(scope, work)
            .ok()
            .and_then(|thread| thread.join().ok())
    })
    .ok_or_else(|| Broken {
        stop: Stop::new(
            Failure::Setup,
            format!("No thread with the stack limit of {limit} bytes could be run."),
        ),
        fuel_used: 0,
    })
}
