//! What stands all the way around something.

use crate::{Amounts, Feature};

/// A ring of pieces around a feature.
#[derive(Clone, Debug, PartialEq)]
pub struct Enclosed<A> {
    /// The widest gap of the ring, with its span to draw; nothing or less where the pieces touch or cross.
    pub opening: A,
    /// The pieces of the ring, in order around it.
    pub pieces: Vec<Feature>,
}

/// Rings.
pub trait Enclosures: Amounts {
    /// Of all rings that some of the pieces make around a feature, the one whose widest gap is least; none when the
    /// pieces cannot go around it at all, or when it or every piece is not drawn.
    fn widest_opening(&self, around: Feature, pieces: &[Feature]) -> Option<Enclosed<Self::Amount>>;
}
