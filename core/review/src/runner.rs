//! What a review needs of a module, so that tests can script one.

use std::sync::Arc;

use groundrule_sandbox::{Blame, CheckInfo, Module, Reading, Task};
use groundrule_site::Site;

/// Runs the checks of one module.
///
/// The sandbox's [`Module`] is the one that programs use.
pub trait CheckRunner: Sync {
    /// The module's name.
    fn name(&self) -> &str;

    /// The version it states.
    fn version(&self) -> Option<&str>;

    /// The checks it offers.
    fn checks(&self) -> &[CheckInfo];

    /// Answers for every subject of a task, with the fuel it took.
    fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame>;
}

impl CheckRunner for Module {
    fn name(&self) -> &str {
        Module::name(self)
    }

    fn version(&self) -> Option<&str> {
        Some(Module::version(self))
    }

    fn checks(&self) -> &[CheckInfo] {
        Module::checks(self)
    }

    fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame> {
        Module::run(self, site, task)
    }
}
