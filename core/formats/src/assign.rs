//! Which lot a building stands on.

use geo::{Area, BooleanOps, Coord, LineString, Polygon};
use rayon::prelude::*;
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};

use crate::kernel::{Xy, bounds, inside};

/// An outline with holes, in metres.
#[derive(Clone, Debug)]
pub(crate) struct Outline {
    pub(crate) ring: Vec<Xy>,
    pub(crate) holes: Vec<Vec<Xy>>,
}

/// The lot that holds most of a building, and the share of the building it holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Held {
    pub(crate) lot: usize,
    pub(crate) share: f64,
}

impl Outline {
    pub(crate) fn area(&self) -> f64 {
        self.polygon().unsigned_area()
    }

    fn polygon(&self) -> Polygon<f64> {
        let line = |ring: &Vec<Xy>| ring.iter().map(|&[x, y]| Coord { x, y }).collect::<LineString>();
        Polygon::new(line(&self.ring), self.holes.iter().map(line).collect())
    }

    fn holds(&self, at: Xy) -> bool {
        inside(&self.ring, at) && !self.holes.iter().any(|hole| inside(hole, at))
    }
}

/// For each building, the lot that holds the most of it; none where no lot holds any.
///
/// A building with every corner on one lot is on that lot. Otherwise areas decide, the first lot on a tie.
pub(crate) fn assign(buildings: &[Outline], lots: &[Outline]) -> Vec<Option<Held>> {
    let boxes = lots.iter().enumerate().map(|(lot, outline)| {
        let (low, high) = bounds(&outline.ring);
        GeomWithData::new(Rectangle::from_corners(low, high), lot)
    });
    let index = RTree::bulk_load(boxes.collect());
    buildings
        .par_iter()
        .map(|building| {
            let (low, high) = bounds(&building.ring);
            let around = AABB::from_corners(low, high);
            let mut near: Vec<usize> =
                index.locate_in_envelope_intersecting(around).map(|found| found.data).collect();
            near.sort_unstable();
            let whole = near.iter().find(|&&lot| building.ring.iter().all(|&at| lots[lot].holds(at)));
            match whole {
                Some(&lot) => Some(Held { lot, share: 1.0 }),
                None => largest_share(building, lots, &near),
            }
        })
        .collect()
}

fn largest_share(building: &Outline, lots: &[Outline], near: &[usize]) -> Option<Held> {
    let shape = building.polygon();
    let size = shape.unsigned_area();
    let mut best: Option<Held> = None;
    for &lot in near {
        let share = shape.intersection(&lots[lot].polygon()).unsigned_area() / size;
        if share > best.map_or(0.0, |held| held.share) {
            best = Some(Held { lot, share });
        }
    }
    best
}
