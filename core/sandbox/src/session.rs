//! One fresh store for one run, and what became of it.

use wasmtime::{Engine, Store};

use crate::bindings::{RuleModule, RuleModulePre};
use crate::state::State;
use crate::stop::Stop;
use crate::{Failure, cost, engine, text};

/// How many handles there may be for each amount a module may hold: its own, and as many more while they are lent
/// to a call that combines all of them in pairs.
const HANDLES_PER_AMOUNT: usize = 4;

/// A module in a store of its own.
pub(crate) struct Session {
    store: Store<State>,
    module: RuleModule,
}

impl Session {
    /// Starts a module. What it does while it starts is charged like everything else.
    pub(crate) fn start(engine: &Engine, code: &RuleModulePre<State>, state: State) -> Result<Self, Broken> {
        let limits = state.limits;
        let mut store = Store::new(engine, state);
        store.limiter(|state| state);
        store.set_hostcall_fuel(limits.result);
        store.set_max_component_handles(limits.amounts.saturating_mul(HANDLES_PER_AMOUNT));
        store.set_epoch_deadline(engine::ticks(limits.seconds));
        store.set_fuel(limits.fuel).map_err(|error| broken(&store, &error))?;
        match code.instantiate(&mut store) {
            Ok(module) => Ok(Self { store, module }),
            Err(error) => Err(broken(&store, &error)),
        }
    }

    /// Calls an export.
    pub(crate) fn call<T>(
        &mut self,
        call: impl FnOnce(&RuleModule, &mut Store<State>) -> wasmtime::Result<T>,
    ) -> Result<T, Broken> {
        call(&self.module, &mut self.store).map_err(|error| broken(&self.store, &error))
    }

    /// Works on what an export gave back, which is charged as well.
    pub(crate) fn finish<T>(
        &mut self,
        units: u64,
        work: impl FnOnce(&mut State) -> Result<T, Stop>,
    ) -> Result<T, Broken> {
        let limits = self.store.data().limits;
        let left = self.store.get_fuel().unwrap_or(0);
        let charged = match left.checked_sub(units.saturating_add(cost::CALL)) {
            Some(rest) => self.store.set_fuel(rest).map_err(|error| Stop::from_engine(&error, &limits)),
            None => Err(Stop::fuel(&limits)),
        };
        charged
            .and_then(|()| work(self.store.data_mut()))
            .map_err(|stop| Broken { stop, fuel_used: self.fuel_used() })
    }

    /// Fuel used so far.
    pub(crate) fn fuel_used(&self) -> u64 {
        fuel_used(&self.store)
    }
}

/// A run that ended early.
#[derive(Debug)]
pub(crate) struct Broken {
    pub(crate) stop: Stop,
    pub(crate) fuel_used: u64,
}

fn fuel_used(store: &Store<State>) -> u64 {
    let limit = store.data().limits.fuel;
    limit.saturating_sub(store.get_fuel().unwrap_or(limit))
}

fn broken(store: &Store<State>, error: &wasmtime::Error) -> Broken {
    let state = store.data();
    let stop = match &state.panic {
        // A panic ends in a trap that says nothing; the words came just before it.
        Some(words) => Stop::new(Failure::Panic, text::neutral(words)),
        None => Stop::from_engine(error, &state.limits),
    };
    Broken { stop, fuel_used: fuel_used(store) }
}
