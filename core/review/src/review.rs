//! The review itself: every row of every pack against the site.

use std::sync::Arc;

use groundrule_packs::Pack;
use groundrule_plan::{Plan, Remark};
use groundrule_sandbox::{Blame, Module};
use groundrule_site::Site;

use crate::{Level, Review};

/// What a review is made from.
pub struct Inputs<'a> {
    /// The plan as written.
    pub plan: &'a Plan,
    /// The plan as resolved.
    pub site: &'a Arc<Site>,
    /// What was found about the data so far.
    pub remarks: Vec<Remark>,
    /// The packs, in the order they were asked for.
    pub packs: &'a [Pack],
    /// The loaded modules.
    pub modules: &'a [Module],
    /// Modules that did not load.
    pub stopped: Vec<Blame>,
}

/// How to judge.
pub struct Options {
    /// The level of probability asked for.
    pub level: Level,
}

/// Reviews a site.
pub fn review(inputs: Inputs<'_>, options: &Options) -> Review {
    let _ = (inputs, options);
    todo!()
}
