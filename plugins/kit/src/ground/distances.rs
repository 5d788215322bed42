//! Distances between features, many in one call.

use groundrule_units::Length;

use crate::{Amounts, Feature};

/// Distances, in the forms that rules judge.
pub trait Distances: Amounts {
    /// The shortest distance of each pair; zero where they touch.
    fn between(&self, pairs: &[(Feature, Feature)]) -> Vec<Self::Amount>;
    /// The gap of each pair, negative by the depth of penetration where they overlap.
    fn clearance(&self, pairs: &[(Feature, Feature)]) -> Vec<Self::Amount>;
    /// The yard between a feature and a lot line, negative by how far the feature reaches beyond the line.
    fn yard(&self, pairs: &[(Feature, Feature)]) -> Vec<Self::Amount>;
    /// Every pair of one of `from` and another of `to` that is no farther apart than `reach`, in order, a
    /// feature and itself left out.
    fn near(&self, from: &[Feature], to: &[Feature], reach: Length) -> Vec<(Feature, Feature)>;
    /// For each feature, the lot line that each side of its outline faces, in outline order.
    fn facing(&self, features: &[Feature]) -> Vec<Vec<Option<Feature>>>;
}
