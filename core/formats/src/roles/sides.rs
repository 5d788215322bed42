//! Edges of a ring to sides.

use crate::kernel::{Xy, cross, dot, minus, unit};

/// Sharper turns start a new side: the cosine of 20 degrees.
const SHARP: f64 = 0.939_692_620_785_908_4;
/// So does a curve that has come this far round: the cosine of 45 degrees.
const ROUND: f64 = std::f64::consts::FRAC_1_SQRT_2;

/// Consecutive edges of a ring that make one side.
pub(super) struct Run {
    pub(super) from: usize,
    pub(super) until: usize,
    /// Along the edges.
    pub(super) length: f64,
    /// Square to the chord, away from the lot.
    pub(super) outward: Xy,
}

/// The sides of an anticlockwise ring, from its first sharp corner on; one side all round when it has none.
pub(super) fn runs(ring: &[Xy]) -> Vec<Run> {
    let count = ring.len();
    if count < 3 {
        return Vec::new();
    }
    let way = |edge: usize| unit(minus(ring[(edge + 1) % count], ring[edge % count]));
    let parts = |a: Xy, b: Xy, limit: f64| dot(a, b) < limit || (cross(a, b) == 0.0 && dot(a, b) < 0.0);
    let sharp = |vertex: usize| parts(way(vertex + count - 1), way(vertex), SHARP);
    let start = (0..count).find(|&vertex| sharp(vertex)).unwrap_or(0);
    let mut starts = vec![start];
    let mut first = way(start);
    for step in 1..count {
        let vertex = start + step;
        if sharp(vertex) || parts(first, way(vertex), ROUND) {
            starts.push(vertex);
            first = way(vertex);
        }
    }
    let ends = starts.iter().copied().skip(1).chain([start + count]);
    starts.iter().zip(ends).map(|(&from, until)| Run::new(ring, from % count, until % count)).collect()
}
