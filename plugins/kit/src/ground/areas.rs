//! Areas, overlaps and lengths.

use crate::{Amounts, Feature};

/// Areas, overlaps and lengths.
pub trait Areas: Amounts {
    /// The area of each feature: an outline less its holes, a line by its width, a disc.
    fn area(&self, features: &[Feature]) -> Vec<Self::Amount>;
    /// The area that features cover together, each place counted once, within a feature if one is given.
    fn covered(&self, features: &[Feature], within: Option<Feature>) -> Self::Amount;
    /// The area that each pair shares.
    fn overlap(&self, pairs: &[(Feature, Feature)]) -> Vec<Self::Amount>;
    /// The length of each line, or the length around each outline.
    fn length(&self, features: &[Feature]) -> Vec<Self::Amount>;
    /// For each pair, the length of the first, a line, that runs inside the second.
    fn length_inside(&self, pairs: &[(Feature, Feature)]) -> Vec<Self::Amount>;
}
