//! Parts of polygons: inside triangles, and on one side of a level.

use std::borrow::Cow;

use groundrule_units::Area;

use crate::plane::{Frame, Xy, cross, ring_area, sub};
use crate::{FacetId, Place, Tin};

/// What is left of a ring on the side where `height` is not negative (Sutherland and Hodgman's way).
/// Of a ring that is not convex, parts may hang together by lines of no width: integrals over it are right.
pub(crate) fn keep(ring: &[Xy], height: impl Fn(Xy) -> f64) -> Vec<Xy> {
    let mut kept = Vec::with_capacity(ring.len() + 2);
    let Some(&last) = ring.last() else { return kept };
    let (mut a, mut high_a) = (last, height(last));
    for &b in ring {
        let high_b = height(b);
        if (high_a < 0.0) != (high_b < 0.0) {
            let t = high_a / (high_a - high_b);
            kept.push([a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t]);
        }
        if high_b >= 0.0 {
            kept.push(b);
        }
        (a, high_a) = (b, high_b);
    }
    kept
}

/// The part of a ring inside a triangle that goes anticlockwise.
pub(crate) fn in_triangle(ring: &[Xy], [a, b, c]: [Xy; 3]) -> Vec<Xy> {
    let sides = [(a, b), (b, c), (c, a)];
    let height = |(p, q): (Xy, Xy), at: Xy| cross(sub(q, p), sub(at, p));
    // Most rings that are asked about are wholly beyond some side.
    if ring.len() < 3 || sides.iter().any(|side| ring.iter().all(|at| height(*side, *at) <= 0.0)) {
        return Vec::new();
    }
    let mut ring = Cow::Borrowed(ring);
    for side in sides {
        if ring.iter().any(|at| height(side, *at) < 0.0) {
            ring = Cow::Owned(keep(&ring, |at| height(side, at)));
        }
    }
    ring.into_owned()
}

/// A ring of places as anticlockwise local ones.
pub(crate) fn anticlockwise(ring: &[Place], origin: Xy) -> Vec<Xy> {
    let mut ring: Vec<Xy> = ring.iter().map(|p| p.local(origin)).collect();
    if ring.iter().flatten().any(|v| !v.is_finite()) {
        return Vec::new();
    }
    if ring_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

impl Tin {
    /// The facets inside a ring that does not cross itself, with the area of each that is inside, in the
    /// order of their ids. The ring may go round either way; what is to be left out of it is the caller's.
    pub fn within(&self, ring: &[Place]) -> Vec<(FacetId, Area)> {
        let ring = anticlockwise(ring, self.mesh.origin);
        let mut found = Vec::new();
        if ring.len() < 3 {
            return found;
        }
        for facet in self.mesh.grid().in_frame(Frame::of(&ring)) {
            let area = ring_area(&in_triangle(&ring, self.mesh.triangle(facet)));
            if area > 0.0 {
                found.push((FacetId(facet), Area::from_square_metres(area)));
            }
        }
        found
    }
}
