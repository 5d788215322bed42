//! Which levels of the ground as it lies still hold when the work is done.
//!
//! Inside a drawn `grading-limit` none do. Where none is drawn, those among the proposed levels do not: inside the least
//! convex outline around them. A proposed level takes the place of an existing one that stands right at it.

use geo::{ConvexHull, Coord, MultiPoint};
use groundrule_survey::{Ground, GroundLevel, Point, Shape, Surface};

use crate::Feature;
use crate::shape::rings::{Lies, lies};
use crate::shape::segments::{norm, place, position};

/// Levels so near to each other, in metres, are of one place: half a foot.
const SAME_PLACE: f64 = 0.1524;

/// For each level, whether it is of a surface.
pub(crate) fn levels_of(which: Surface, ground: &Ground, features: &[Feature]) -> Vec<bool> {
    if which == Surface::Existing {
        return ground.levels.iter().map(|level| level.surface == which).collect();
    }
    let proposed = ground.levels.iter().filter(|level| level.surface == which);
    let proposed: Vec<Coord<f64>> = proposed.map(|level| place(&level.at)).collect();
    let regraded = regraded(features, &proposed);
    let stays = |level: &GroundLevel| {
        let p = place(&level.at);
        let made_anew = regraded.iter().any(|ring| lies(ring, p) == Lies::Inside);
        !made_anew && !proposed.iter().any(|other| norm(*other - p) <= SAME_PLACE)
    };
    ground.levels.iter().map(|level| level.surface == which || stays(level)).collect()
}

/// Outlines inside which the ground is made anew.
fn regraded(features: &[Feature], proposed: &[Coord<f64>]) -> Vec<Vec<Point>> {
    let limits = features.iter().filter(|feature| feature.kind == "grading-limit");
    let drawn: Vec<Vec<Point>> = limits
        .filter_map(|limit| match &limit.shape {
            Shape::Outline { ring, .. } => Some(ring.clone()),
            _ => None,
        })
        .collect();
    if !drawn.is_empty() || proposed.len() < 3 {
        return drawn;
    }
    let hull = MultiPoint::from(proposed.to_vec()).convex_hull();
    // The ring of a hull repeats its first place.
    let places = hull.exterior().coords().skip(1);
    vec![places.map(|at| Point { at: position(*at), ..Point::default() }).collect()]
}
