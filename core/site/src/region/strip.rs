//! The strip of a lot along one of its lines.

use groundrule_plan::Name;
use groundrule_units::Length;

use super::solid::around_path;
use super::{Draft, usable};
use crate::{FeatureId, Site};

impl Site {
    /// The part of a lot within a depth of one of its lines, by the distance to the line segment as for
    /// [`Site::yard`]. None for what is not a drawn line of a drawn lot, and for a depth that is not above nothing.
    pub fn strip(&self, line: FeatureId, depth: Length) -> Option<Draft> {
        let depth = usable(depth)?;
        let on = self.lot_line(line)?;
        Some(Draft {
            solids: around_path(on.path, depth),
            within: Some(on.lot_solid()),
            name: Name(format!("strip along {}", on.feature.id.0)),
            title: format!("the ground along the {}", on.feature.title),
            lot: Some(on.lot),
            span: on.feature.span,
        })
    }
}
