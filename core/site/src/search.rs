//! Finding features near others.

use groundrule_units::Length;
use rstar::AABB;
use smallvec::SmallVec;

use crate::distance::{boxed, within};
use crate::shape::piece::Bounds;
use crate::{FeatureId, Site};

impl Site {
    /// Every pair of one of `from` and another of `to` no farther apart than `reach`, in order.
    ///
    /// Features that touch or overlap count; a feature is never paired with itself, and one without a shape
    /// with none. Where both lists hold two features that are near, both orders of the pair are there.
    pub fn near(&self, from: &[FeatureId], to: &[FeatureId], reach: Length) -> Vec<(FeatureId, FeatureId)> {
        let reach = reach.metres();
        if !reach.is_finite() || reach < 0.0 {
            return Vec::new();
        }
        let regions = || self.regions().map(|(id, _)| id);
        let mut wanted = vec![false; self.len() + regions().len()];
        for id in to {
            if let Some(slot) = wanted.get_mut(id.0 as usize) {
                *slot = true;
            }
        }
        let mut from = from.to_vec();
        from.sort_unstable();
        from.dedup();
        let mut pairs = Vec::new();
        for id in from {
            let here = boxed(self.shapes(id));
            if here.is_empty() {
                continue;
            }
            let bounds = here.iter().fold(Bounds::EMPTY, |all, (_, bounds)| all.joined(*bounds));
            let window = AABB::from_corners(
                [bounds.low.x - reach, bounds.low.y - reach],
                [bounds.high.x + reach, bounds.high.y + reach],
            );
            let mut found: SmallVec<[FeatureId; 16]> = self
                .index()
                .locate_in_envelope_intersecting(window)
                .map(|item| item.data)
                .chain(regions())
                .filter(|other| *other != id && wanted.get(other.0 as usize).copied().unwrap_or_default())
                .filter(|other| within(&here, &boxed(self.shapes(*other)), reach))
                .collect();
            found.sort_unstable();
            pairs.extend(found.into_iter().map(|other| (id, other)));
        }
        pairs
    }
}
