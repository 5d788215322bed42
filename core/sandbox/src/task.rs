//! What a module is asked, and what it answers.

use std::collections::BTreeMap;

use groundrule_site::{Facts, FeatureId, Mark, Measured, Need, Parameter};
use groundrule_units::Dimension;

/// A check a module offers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckInfo {
    /// Its name within the module: `lot-line-distance`.
    pub name: String,
    /// What it measures, in one sentence.
    pub summary: String,
    /// What its answers are; none for a count or a truth.
    pub dimension: Option<Dimension>,
    /// The parameters it takes.
    pub parameters: Vec<ParameterInfo>,
    /// The groups of features it measures to.
    pub groups: Vec<String>,
}

/// A parameter of a check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ParameterInfo {
    /// Its name.
    pub name: String,
    /// What it does, in one sentence.
    pub summary: String,
}

/// One row's question to one check.
#[derive(Clone, Debug, Default)]
pub struct Task {
    /// The check's name within the module.
    pub check: String,
    /// The rule it is asked for, for blame.
    pub rule: String,
    /// Whom it is about.
    pub subjects: Vec<FeatureId>,
    /// What it is measured to, by group.
    pub groups: BTreeMap<String, Vec<FeatureId>>,
    /// What shapes the measurement.
    pub parameters: BTreeMap<String, Parameter>,
}

/// One answer to one question.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Whom it is about: the subject first, then what it was measured to.
    pub features: Vec<FeatureId>,
    /// The answer.
    pub answer: Answer,
    /// What to draw, besides the marks of the amount.
    pub marks: Vec<Mark>,
    /// Named facts for the limit and the message.
    pub facts: Facts,
}

/// What a check found.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer {
    /// An amount.
    Amount(Measured),
    /// A whole number.
    Count(u32),
    /// A stated yes or no.
    Truth(bool),
    /// Data is lacking.
    Lacking(Vec<Need>),
    /// The question does not arise, and why.
    NotApplicable(String),
}
