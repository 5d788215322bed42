//! The ground along a line.

use groundrule_units::Length;

use crate::plane::{SAME, Xy, cross, distance, lerp, sub};
use crate::{FacetId, Place, Tin};

/// Shares of a segment closer than this are one.
const CLOSE: f64 = 1e-12;

/// The part of a segment that runs over one facet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// The facet.
    pub facet: FacetId,
    /// Where it begins, as a share of the segment from 0 to 1.
    pub from: f64,
    /// Where it ends, as a share of the segment from 0 to 1.
    pub to: f64,
}

impl Tin {
    /// The stretches of a straight segment over the facets, in order; where there is no ground they leave a
    /// gap. A segment that runs along an edge has one of the two facets, once. One that runs along a rim less
    /// than a millimetre outside the ground has the facets beside it. A segment of no length has none.
    pub fn along(&self, from: Place, to: Place) -> Vec<Stretch> {
        self.along_local(from.local(self.mesh.origin), to.local(self.mesh.origin))
    }

    pub(crate) fn along_local(&self, a: Xy, b: Xy) -> Vec<Stretch> {
        let long = distance(a, b);
        if !(long > 0.0 && long.is_finite()) {
            return Vec::new();
        }
        let mut exact = Vec::new();
        let mut beside = Vec::new();
        let side = [(b[1] - a[1]) / long * SAME, (a[0] - b[0]) / long * SAME];
        let band = [
            [a[0] + side[0], a[1] + side[1]],
            [b[0] + side[0], b[1] + side[1]],
            [b[0] - side[0], b[1] - side[1]],
            [a[0] - side[0], a[1] - side[1]],
        ];
        for facet in self.mesh.grid().near(&band) {
            let triangle = self.mesh.triangle(facet);
            let stretch = |(from, to)| Stretch { facet: FacetId(facet), from, to };
            exact.extend(over(triangle, a, b, 0.0).map(stretch));
            // Only what runs along an edge, not the bit beyond an edge that it leaves over.
            let along = over(triangle, a, b, SAME).filter(|(from, to)| (to - from) * long > 10.0 * SAME);
            beside.extend(along.map(stretch));
        }
        let mut stretches = lay(exact, &[(0.0, 1.0)]);
        let gaps = gaps(&stretches);
        if !gaps.is_empty() {
            let narrow = 10.0 * SAME / long;
            stretches.extend(lay(beside, &gaps).into_iter().filter(|s| s.to - s.from > narrow));
            stretches.sort_by(|s, t| s.from.total_cmp(&t.from));
        }
        stretches
    }

    /// The ground along a path: pieces with ground, each as places along the path and levels there, with one
    /// wherever an edge is crossed and at each corner of the path.
    pub fn profile(&self, path: &[Place]) -> Vec<Vec<(Length, Length)>> {
        let mut pieces: Vec<Vec<(Length, Length)>> = Vec::new();
        let (mut start, mut ended) = (0.0, f64::NEG_INFINITY);
        for leg in path.windows(2) {
            let [a, b] = [leg[0], leg[1]].map(|p| p.local(self.mesh.origin));
            let long = distance(a, b);
            for Stretch { facet, from, to } in self.along_local(a, b) {
                let at = |t: f64| {
                    let level = self.level_on(facet.0, lerp(a, b, t));
                    (Length::from_metres(start + t * long), Length::from_metres(level))
                };
                let goes_on = start + from * long - ended <= SAME;
                match pieces.last_mut() {
                    Some(piece) if goes_on => piece.push(at(to)),
                    _ => pieces.push(vec![at(from), at(to)]),
                }
                ended = start + to * long;
            }
            start += long;
        }
        pieces
    }
}

/// The shares of a segment that are over a triangle, or within a distance of each of its sides.
fn over([a, b, c]: [Xy; 3], from: Xy, to: Xy, beside: f64) -> Option<(f64, f64)> {
    let (mut enter, mut leave) = (0.0_f64, 1.0_f64);
    for (p, q) in [(a, b), (b, c), (c, a)] {
        let reach = beside * distance(p, q);
        // Counted from the same end for both facets of an edge, so that rounding leaves no gap between them.
        let turned = (q[0], q[1]) < (p[0], p[1]);
        let (p, q, sign) = if turned { (q, p, -1.0) } else { (p, q, 1.0) };
        let edge = sub(q, p);
        let start = sign * cross(edge, sub(from, p)) + reach;
        let end = sign * cross(edge, sub(to, p)) + reach;
        if start < 0.0 && end < 0.0 {
            return None;
        }
        if start < 0.0 {
            enter = enter.max(start / (start - end));
        } else if end < 0.0 {
            leave = leave.min(start / (start - end));
        }
    }
    (leave - enter > CLOSE).then_some((enter, leave))
}

/// Puts stretches end to end into the free parts, each part of them once.
fn lay(mut stretches: Vec<Stretch>, free: &[(f64, f64)]) -> Vec<Stretch> {
    stretches.sort_by(|s, t| s.from.total_cmp(&t.from).then(s.facet.cmp(&t.facet)));
    let mut laid: Vec<Stretch> = Vec::new();
    for &(low, high) in free {
        let mut reached = low;
        for s in &stretches {
            let from = s.from.max(reached);
            let to = s.to.min(high);
            if to - from > CLOSE {
                // Two facets that meet do so at one number.
                let from = if from - reached < CLOSE { reached } else { from };
                laid.push(Stretch { from, to, ..*s });
                reached = to;
            }
        }
    }
    laid
}

/// The parts of the whole segment that no stretch covers.
fn gaps(stretches: &[Stretch]) -> Vec<(f64, f64)> {
    let mut gaps = Vec::new();
    let mut reached = 0.0;
    for s in stretches {
        if s.from - reached > CLOSE {
            gaps.push((reached, s.from));
        }
        reached = s.to;
    }
    if 1.0 - reached > CLOSE {
        gaps.push((reached, 1.0));
    }
    gaps
}
