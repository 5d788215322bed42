//! Which lot line each side of a building faces.

use crate::{FeatureId, Site};

/// One side of a building and the lot line it faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Facing {
    /// The index of the outline vertex the side starts at.
    pub side: usize,
    /// The line it faces; none when no line lies in front of it.
    pub line: Option<FeatureId>,
}

impl Site {
    /// The line each side of a feature's outline faces, of the lot it stands on.
    pub fn facing(&self, feature: FeatureId) -> Vec<Facing> {
        let _ = feature;
        todo!()
    }
}
