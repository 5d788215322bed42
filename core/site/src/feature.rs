//! Things on the site, and the facts stated of them.

use std::collections::BTreeMap;

use groundrule_plan::{Name, Span, Status};
use groundrule_survey::Shape;
use groundrule_units::Quantity;

use crate::Measured;

/// A feature's place in [`crate::Site::features`]; lots and lot lines are features too.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FeatureId(pub u32);

/// A stated fact.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// A length, area, ratio or angle.
    Amount(Measured),
    /// A whole number.
    Count(u32),
    /// Yes or no.
    Flag(bool),
    /// Words.
    Text(String),
}

/// A value that shapes a measurement, handed to a module with its task.
#[derive(Clone, Debug, PartialEq)]
pub enum Parameter {
    /// A length, area, ratio or angle.
    Quantity(Quantity),
    /// A whole number.
    Count(u32),
    /// Yes or no.
    Flag(bool),
    /// Words.
    Text(String),
    /// Several words.
    List(Vec<String>),
}

/// A thing on the site. A lot has kind `lot`; each of its sides is a feature of kind `lot-line`
/// with the facts `role`, `street` and `assumed`.
#[derive(Clone, Debug)]
pub struct Feature {
    /// Unique id: `shed`, `lot`, `lot.sw-se`.
    pub id: Name,
    /// What to call it in a sentence: its title, or its id.
    pub title: String,
    /// A name of the kind tree.
    pub kind: String,
    /// Existing, proposed or to be removed; none when the plan does not say.
    pub status: Option<Status>,
    /// The lot it stands on or bounds.
    pub lot: Option<FeatureId>,
    /// Its shape.
    pub shape: Shape,
    /// Facts stated of it, by name.
    pub facts: BTreeMap<String, Fact>,
    /// Where in the file.
    pub span: Span,
}
