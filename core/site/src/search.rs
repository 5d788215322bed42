//! Finding features near others.

use groundrule_units::Length;

use crate::{FeatureId, Site};

impl Site {
    /// Every pair of one of `from` and another of `to` no farther apart than `reach`, in order.
    pub fn near(&self, from: &[FeatureId], to: &[FeatureId], reach: Length) -> Vec<(FeatureId, FeatureId)> {
        let _ = (from, to, reach);
        todo!()
    }
}
