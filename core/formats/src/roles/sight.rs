//! Which street a side of a lot looks at.

use rstar::primitives::{GeomWithData, Line, Rectangle};
use rstar::{AABB, RTree};

use crate::kernel::{Xy, along, bounds, dot, length, length_inside, minus, nearest_on};

/// The cosine of the farthest a street may lie off square to the side: 60 degrees.
const ASKEW: f64 = 0.5;
/// So much of the way to the street may cross a lot: maps do not close up exactly.
const SLIVER: f64 = 0.5;

/// Lots and streets, ready to be looked at.
pub(super) struct Sight<'a> {
    rings: &'a [Vec<Xy>],
    lots: RTree<GeomWithData<Rectangle<Xy>, usize>>,
    pieces: RTree<GeomWithData<Line<Xy>, usize>>,
    reach: f64,
}

impl<'a> Sight<'a> {
    pub(super) fn new(rings: &'a [Vec<Xy>], streets: &[Vec<Xy>], reach: f64) -> Self {
        let boxes = rings.iter().enumerate().filter(|(_, ring)| !ring.is_empty()).map(|(lot, ring)| {
            let (low, high) = bounds(ring);
            GeomWithData::new(Rectangle::from_corners(low, high), lot)
        });
        let pieces = streets.iter().enumerate().flat_map(|(street, path)| {
            path.windows(2).map(move |ends| GeomWithData::new(Line::new(ends[0], ends[1]), street))
        });
        Self {
            rings,
            lots: RTree::bulk_load(boxes.collect()),
            pieces: RTree::bulk_load(pieces.collect()),
            reach,
        }
    }

    /// How much street runs inside a ring.
    pub(super) fn street_inside(&self, ring: &[Xy]) -> f64 {
        let (low, high) = bounds(ring);
        let near = self.pieces.locate_in_envelope_intersecting(AABB::from_corners(low, high));
        let mut lengths: Vec<f64> =
            near.map(|piece| length_inside(ring, piece.geom().from, piece.geom().to)).collect();
        // The index gives them in no stated order; a sum must not depend on it.
        lengths.sort_by(f64::total_cmp);
        lengths.iter().sum()
    }

    /// The street a side faces, by the majority of three places along it.
    pub(super) fn faces(&self, side: &[Xy], outward: Xy) -> Option<usize> {
        let seen: Vec<usize> =
            [0.25, 0.5, 0.75].iter().filter_map(|&share| self.sees(along(side, share)?, outward)).collect();
        if seen.len() >= 2 { seen.first().copied() } else { None }
    }

    /// The nearest street that can be seen from a place.
    fn sees(&self, at: Xy, outward: Xy) -> Option<usize> {
        let reach = [self.reach, self.reach];
        let around = AABB::from_corners(minus(at, reach), [at[0] + reach[0], at[1] + reach[1]]);
        // The nearest place of each street, then the streets from the nearest on.
        let mut nearest: Vec<(usize, f64, Xy)> = self
            .pieces
            .locate_in_envelope_intersecting(around)
            .map(|piece| {
                let place = nearest_on(piece.geom().from, piece.geom().to, at);
                (piece.data, length(minus(place, at)), place)
            })
            .filter(|(_, away, _)| *away <= self.reach)
            .collect();
        nearest.sort_by(|a, b| {
            let by_place = a.2[0].total_cmp(&b.2[0]).then(a.2[1].total_cmp(&b.2[1]));
            a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(by_place)
        });
        nearest.dedup_by_key(|(street, ..)| *street);
        nearest.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
        nearest
            .iter()
            .find(|(_, away, place)| {
                dot(minus(*place, at), outward) >= ASKEW * away && !self.blocked(at, *place)
            })
            .map(|(street, ..)| *street)
    }

    fn blocked(&self, from: Xy, to: Xy) -> bool {
        let (low, high) = bounds(&[from, to]);
        self.lots
            .locate_in_envelope_intersecting(AABB::from_corners(low, high))
            .any(|lot| length_inside(&self.rings[lot.data], from, to) > SLIVER)
    }
}
