//! The ground as a surface: its levels, slopes and faces, and where water runs on it.
//!
//! One surface for the ground as it lies and one for the ground as it shall be (`assemble`). Every corner of a surface
//! has a place and a level that err; a figure errs with the corners of the facets that decide it (`model`). A corner of a
//! building whose level nobody gave has a guessed one, so that the surface holds together; what rests on it is lacking.

mod along;
mod assemble;
mod axis;
mod chance;
mod contours;
mod courses;
mod earth;
mod faces;
mod footprint;
mod hollows;
mod level;
mod model;
mod moved;
mod over;
mod picked;
mod regraded;
mod section;
mod shed;
mod stay;
mod told;
mod walls;

use groundrule_survey::Surface;

pub(crate) use assemble::terrain;
pub use contours::{ContourLine, Fall, MeanFall, Pond, Spot};
pub use courses::{Course, Outcome};
pub use earth::Earth;
pub use faces::{Face, FaceDraft};
pub use hollows::Hollow;
pub use model::Ground;
pub use moved::Moved;
pub use picked::Figure;
pub use section::{Crossing, Leg, Section, SurfaceProfile};
pub use walls::WallFall;

use crate::{Need, Site};

/// The surfaces of a site, as far as its levels make them.
#[derive(Debug, Default)]
pub(crate) struct Terrain {
    existing: Option<Ground>,
    proposed: Option<Ground>,
}

impl Site {
    /// The surface of the ground; none where the plan has fewer than three levels of it that are not on one line.
    pub fn ground(&self, which: Surface) -> Option<&Ground> {
        match which {
            Surface::Existing => self.terrain().existing.as_ref(),
            Surface::Proposed => self.terrain().proposed.as_ref(),
        }
    }
}

/// What is lacking where there is no surface.
pub(crate) fn no_ground(which: Surface) -> Need {
    let word = word(which);
    Need {
        what: format!("levels of the {word} ground"),
        how: "take at least three that are not on one line: at the corners of the lot and of the house, at the street, and wherever the slope changes"
            .to_owned(),
    }
}

/// `existing` or `proposed`.
pub(crate) fn word(which: Surface) -> &'static str {
    match which {
        Surface::Existing => "existing",
        Surface::Proposed => "proposed",
    }
}
