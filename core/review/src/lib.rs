//! Rules and site to findings with verdicts.
//!
//! Modules measure, packs set limits, and this crate judges: a verdict is the probability that the true
//! value conforms, in the sense of JCGM 106, against the level asked for.

mod absent;
mod accepted;
mod ask;
mod bound;
mod buildable;
mod classes;
mod compare;
mod conformity;
mod counts;
mod data;
mod disputed;
mod doubt;
mod draft;
mod facts;
mod finding;
mod governs;
mod judge;
mod listed;
mod message;
mod number;
mod retake;
mod review;
mod roles;
mod runner;
mod weight;
mod words;

pub use accepted::Deviation;
pub use buildable::{Buildable, Setback};
pub use conformity::{Conformity, Level, conformity, conformity_between, quantile};
pub use finding::{
    Beside, Citation, Counts, DataFinding, Finding, FindingId, Listed, PackUse, Required, Review, RuleRecord,
    Shown, ToolFinding, Verdict,
};
pub use retake::{Remeasure, Retake};
pub use review::{Inputs, Options, review};
pub use runner::CheckRunner;
