//! The width of a walk or passage.

use crate::{FeatureId, Measured, Site};

impl Site {
    /// The narrowest drawn width of a feature: a line's own width, or the least distance between
    /// facing edges of an outline.
    pub fn drawn_width(&self, feature: FeatureId) -> Measured {
        let _ = feature;
        todo!()
    }
}
