//! Areas, lengths and overlaps.

use crate::{FeatureId, Measured, Site};

impl Site {
    /// The area of a feature: outline less holes, a line by its width, a disc.
    pub fn area(&self, feature: FeatureId) -> Measured {
        let _ = feature;
        todo!()
    }

    /// The area that features cover together, each place once, within a feature if one is given.
    pub fn covered(&self, features: &[FeatureId], within: Option<FeatureId>) -> Measured {
        let _ = (features, within);
        todo!()
    }

    /// The area two features share.
    pub fn overlap(&self, a: FeatureId, b: FeatureId) -> Measured {
        let _ = (a, b);
        todo!()
    }

    /// The length of a line, or the length around an outline or disc.
    pub fn length(&self, feature: FeatureId) -> Measured {
        let _ = feature;
        todo!()
    }

    /// The length of a line feature that runs inside another feature.
    pub fn length_inside(&self, line: FeatureId, area: FeatureId) -> Measured {
        let _ = (line, area);
        todo!()
    }
}
