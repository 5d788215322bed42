//! The amounts of a sketch.

use groundrule_units::{Dimension, Quantity};

use super::stop;

/// An amount without any error.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Exact {
    quantity: Quantity,
    lacks: bool,
}

impl Exact {
    /// An amount.
    pub fn new(quantity: impl Into<Quantity>) -> Self {
        Self { quantity: quantity.into(), lacks: false }
    }

    /// An amount that cannot be had, because a feature is not drawn.
    pub fn missing(dimension: Dimension) -> Self {
        Self { quantity: Quantity::new(dimension, 0.0), lacks: true }
    }

    /// What it is.
    pub const fn value(self) -> Quantity {
        self.quantity
    }

    /// True when data it rests on is not there.
    pub const fn lacks(self) -> bool {
        self.lacks
    }

    pub(super) fn plus(self, other: Self, factor: f64) -> Self {
        let (a, b) = (self.quantity, other.quantity);
        if a.dimension() != b.dimension() {
            stop(&format!("{:?} and {:?} cannot be added or subtracted", a.dimension(), b.dimension()));
        }
        let quantity = Quantity::new(a.dimension(), a.si() + factor * b.si());
        Self { quantity, lacks: self.lacks || other.lacks }
    }

    pub(super) fn over(self, other: Self) -> Option<Self> {
        let (a, b) = (self.quantity, other.quantity);
        if a.dimension() != b.dimension() {
            stop(&format!("{:?} over {:?} is not a ratio", a.dimension(), b.dimension()));
        }
        let lacks = self.lacks || other.lacks;
        let ratio = if lacks { 0.0 } else { a.si() / b.si() };
        ratio.is_finite().then_some(Self { quantity: Quantity::new(Dimension::Ratio, ratio), lacks })
    }

    pub(super) fn times(self, factor: f64) -> Self {
        Self { quantity: Quantity::new(self.quantity.dimension(), self.quantity.si() * factor), ..self }
    }
}
