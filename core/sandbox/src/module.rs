//! Loading and running.

use std::sync::Arc;

use groundrule_site::Site;

use crate::{Blame, CheckInfo, Limits, Reading, Task};

/// Where compiled code may be kept. The program implements it on the user's own cache folder.
pub trait CodeCache: Send + Sync {
    /// The bytes kept under a key, if any.
    fn load(&self, key: &str) -> Option<Vec<u8>>;
    /// Keeps bytes under a key; failing quietly is allowed.
    fn store(&self, key: &str, bytes: &[u8]);
}

/// The engine every module runs on.
pub struct Sandbox {
    limits: Limits,
}

/// A loaded module.
pub struct Module {
    name: String,
}

impl Sandbox {
    /// An engine with these limits.
    pub fn new(limits: Limits, cache: Option<Box<dyn CodeCache>>) -> Result<Self, Blame> {
        let _ = cache;
        Ok(Self { limits })
    }

    /// The limits in force.
    pub fn limits(&self) -> &Limits {
        &self.limits
    }

    /// Loads a module: reads its interface version first, then compiles it or takes it from the cache.
    pub fn load(&self, name: &str, bytes: &[u8]) -> Result<Module, Blame> {
        let _ = (name, bytes);
        todo!()
    }
}

impl Module {
    /// Its name.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its version, as it states it.
    pub fn version(&self) -> &str {
        todo!()
    }

    /// The checks it offers.
    pub fn checks(&self) -> &[CheckInfo] {
        todo!()
    }

    /// Runs one check in a fresh store. The readings come with the fuel that was used.
    pub fn run(&self, site: &Arc<Site>, task: &Task) -> Result<(Vec<Reading>, u64), Blame> {
        let _ = (site, task);
        todo!()
    }
}
