//! A lot seen from its front line: how far across, and how far back.

use super::line::{Xy, dot, flat, length, minus, unit};
use crate::Position;

/// The frame of a front line: across along its chord, back square to it into the lot.
pub(super) struct Frame {
    middle: Xy,
    /// Along the chord, the lot on the left.
    along: Xy,
    /// The length of the chord, in metres.
    pub(super) chord: f64,
}

impl Frame {
    /// The frame of a front line that runs from one place to another; none where they are one.
    pub(super) fn of(from: &Position, until: &Position) -> Option<Self> {
        let (from, until) = (flat(from), flat(until));
        let way = minus(until, from);
        let chord = length(way);
        let middle = (f64::midpoint(from.0, until.0), f64::midpoint(from.1, until.1));
        (chord > 0.0).then(|| Self { middle, along: unit(way), chord })
    }

    /// How far across and how far back a place lies.
    pub(super) fn seen(&self, at: &Position) -> Xy {
        let off = minus(flat(at), self.middle);
        (dot(off, self.along), dot(off, (-self.along.1, self.along.0)))
    }
}

/// Where the boundary of a ring, seen from its front, passes a depth: the index of the edge and how far across,
/// from left to right. Ends that lie at the depth count with the part before it.
pub(super) fn crossings(ring: &[Xy], depth: f64) -> Vec<(usize, f64)> {
    let mut found: Vec<(usize, f64)> = ring
        .iter()
        .zip(ring.iter().cycle().skip(1))
        .enumerate()
        .filter(|(_, (a, b))| (a.1 < depth) != (b.1 < depth))
        .map(|(i, (a, b))| (i, a.0 + (depth - a.1) / (b.1 - a.1) * (b.0 - a.0)))
        .collect();
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    found
}
