//! A value with its spread, kept as a sum of independent error sources so that covariance survives arithmetic.

use groundrule_survey::{Position, SourceId};
use groundrule_units::Quantity;
use smallvec::SmallVec;

/// How far one standard deviation of each source moves a value, in the value's SI unit; in order of source.
pub type Terms = SmallVec<[(SourceId, f64); 8]>;

/// What to draw for a measurement.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A place.
    Spot(Position),
    /// A dimension from one place to another.
    Span(Position, Position),
    /// A ring to be shaded.
    Region(Vec<Position>),
}

/// Data that is not there.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Need {
    /// What is lacking: `clear opening of gate-1`.
    pub what: String,
    /// What to add or where to measure it.
    pub how: String,
}

/// A measured amount.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    value: Quantity,
    terms: Terms,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// What is lacking; an amount with needs is not judged.
    pub needs: Vec<Need>,
}

impl Measured {
    /// An amount with its error terms, which must be in order of source, each source once.
    pub fn new(value: Quantity, terms: Terms) -> Self {
        Self { value, terms, marks: Vec::new(), needs: Vec::new() }
    }

    /// An amount that is exactly so: stated, counted or designed.
    pub fn exact(value: impl Into<Quantity>) -> Self {
        Self::new(value.into(), Terms::new())
    }

    /// The best value.
    pub fn value(&self) -> Quantity {
        self.value
    }

    /// The error terms.
    pub fn terms(&self) -> &Terms {
        &self.terms
    }

    /// The standard uncertainty, a quantity of the same dimension.
    pub fn spread(&self) -> Quantity {
        let variance: f64 = self.terms.iter().map(|(_, c)| c * c).sum();
        Quantity::new(self.value.dimension(), libm::sqrt(variance))
    }
}
