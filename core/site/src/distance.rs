//! Distance between any two features, and the signed forms that rules judge.

use crate::{FeatureId, Measured, Site};

impl Site {
    /// The shortest distance between two features; zero where they touch or one holds the other.
    pub fn distance(&self, from: FeatureId, to: FeatureId) -> Measured {
        let _ = (from, to);
        todo!()
    }

    /// The gap between two features, negative by the depth of penetration where they overlap.
    pub fn clearance(&self, from: FeatureId, to: FeatureId) -> Measured {
        let _ = (from, to);
        todo!()
    }

    /// The depth of the yard between a feature and a lot line: the distance to the line *segment*,
    /// negative by how far the feature reaches beyond it.
    pub fn yard(&self, feature: FeatureId, line: FeatureId) -> Measured {
        let _ = (feature, line);
        todo!()
    }
}
