//! Buildings and pools as holes in the ground, with the levels that were taken at their walls.

use geo::Coord;
use groundrule_plan::KindTree;
use groundrule_survey::{Point, Shape};

use crate::region::points;
use crate::shape::rings::{Lies, lies};
use crate::shape::segments::{at, norm, place, station};
use crate::{Fact, Feature};

/// A level so near to a wall, in metres, was taken at it: a foot.
pub(crate) const AT_WALL: f64 = 0.3048;

/// Kinds whose inside is no ground.
const CLOSED: [&str; 6] = ["dwelling", "garage-attached", "bay", "accessory-structure", "pool", "spa"];

/// The outline of something that is no ground.
pub(crate) struct Footprint<'a> {
    /// Its index among the features of the plan.
    pub(crate) feature: usize,
    pub(crate) ring: &'a [Point],
}

/// Where a level lies with respect to a footprint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Stands {
    /// At one of its corners.
    Corner(usize),
    /// On the edge after a corner, at a share of it.
    Edge(usize, f64),
    /// Inside, away from the walls.
    Inside,
}

/// True for what takes up its ground: a building with walls, the water of a pool.
pub(crate) fn is_closed(feature: &Feature, kinds: &KindTree) -> bool {
    let open = feature.facts.get("open") == Some(&Fact::Flag(true)) || kinds.is_a(&feature.kind, "carport");
    !open && CLOSED.iter().any(|kind| kinds.is_a(&feature.kind, kind))
}

impl<'a> Footprint<'a> {
    pub(crate) fn of(feature: usize, it: &'a Feature, kinds: &KindTree) -> Option<Self> {
        match &it.shape {
            Shape::Outline { ring, .. } if is_closed(it, kinds) => Some(Self { feature, ring }),
            _ => None,
        }
    }

    /// Where a place stands; none for one out in the open.
    pub(crate) fn stands(&self, p: Coord<f64>) -> Option<Stands> {
        let corner = nearest(self.ring.iter().map(|corner| norm(place(corner) - p)));
        if let Some((i, _)) = corner.filter(|(_, distance)| *distance <= AT_WALL) {
            return Some(Stands::Corner(i));
        }
        let edges = crate::shape::rings::edges(self.ring);
        let feet = edges.map(|(a, b)| station(p, place(a), place(b)).filter(|t| *t > 0.0 && *t < 1.0));
        let feet: Vec<Option<f64>> = feet.collect();
        let edges = crate::shape::rings::edges(self.ring).zip(&feet);
        let distances =
            edges.map(|((a, b), t)| t.map_or(f64::INFINITY, |t| norm(at(place(a), place(b), t) - p)));
        if let Some((i, _)) = nearest(distances).filter(|(_, distance)| *distance <= AT_WALL) {
            return feet.get(i).copied().flatten().map(|t| Stands::Edge(i, t));
        }
        (lies(self.ring, p) == Lies::Inside).then_some(Stands::Inside)
    }

    /// The place on the edge after a corner, moving with both ends.
    pub(crate) fn on_edge(&self, i: usize, t: f64) -> Option<Point> {
        let (a, b) = (self.ring.get(i)?, self.ring.get((i + 1) % self.ring.len())?);
        Some(points::between((a, b), t))
    }
}

fn nearest(distances: impl Iterator<Item = f64>) -> Option<(usize, f64)> {
    distances.enumerate().min_by(|a, b| a.1.total_cmp(&b.1))
}
