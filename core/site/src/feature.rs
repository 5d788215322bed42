//! Things on the site, and the facts stated of them.

use groundrule_plan::{Name, Span, Status};
use groundrule_survey::Shape;
use groundrule_units::Quantity;

use crate::{Facts, Measured};

/// A feature's place in [`crate::Site::features`]; lots and lot lines are features too.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FeatureId(pub u32);

/// A stated fact.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// A length, area, ratio or angle; boxed, since most facts are words and an amount is large.
    Amount(Box<Measured>),
    /// Several lengths, in the order stated.
    Amounts(Vec<Measured>),
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

/// A thing on the site. The sheet has kind `sheet` and is not drawn. A lot has kind `lot`; each of its sides is a feature of kind `lot-line`
/// with the facts `role` (`front`, `side`, `street_side` or `rear`), `street` and `assumed`, as far as known.
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
    /// The lot it stands on or bounds; a lot is its own.
    pub lot: Option<FeatureId>,
    /// Its shape.
    pub shape: Shape,
    /// Facts stated of it, by name; `status` (`existing`, `proposed` or `remove`) is among them when known.
    pub facts: Facts,
    /// Where in the file.
    pub span: Span,
}
