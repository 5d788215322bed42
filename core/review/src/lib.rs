//! Rules and site to findings with verdicts.
//!
//! Modules measure, packs set limits, and this crate judges: a verdict is the probability that the true
//! value conforms, in the sense of JCGM 106, against the level asked for.

mod conformity;
mod finding;
mod review;

pub use conformity::{Conformity, Level, conformity, conformity_between};
pub use finding::{
    Citation, Counts, DataFinding, Finding, FindingId, PackUse, Required, Review, RuleRecord, Shown,
    ToolFinding, Verdict,
};
pub use review::{Inputs, Options, review};
