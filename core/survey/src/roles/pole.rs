//! The pole of a flag lot: a narrow strip from the street to where the lot widens.

use super::line::{Xy, cross, minus, unit};
use super::{DIAGONAL, frame};

/// Behind its pole a flag lot is at least so many times as wide as its front.
const WIDENS: f64 = 2.0;
/// A pole is nowhere wider than so many times its front.
const NARROW: f64 = 1.5;

/// Where a pole ends: the vertex at which the boundary turns away from it.
///
/// A pole is at least as long as the front is wide. The ring is seen from the front line, of which `from` and
/// `until` are the first and the last vertex.
pub(super) fn end(ring: &[Xy], from: usize, until: usize, width: f64) -> Option<usize> {
    let (low, high) =
        ring.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| (low.min(p.0), high.max(p.0)));
    if high - low < WIDENS * width {
        return None;
    }
    let count = ring.len();
    let inner = (until + count - from) % count;
    let behind = count.checked_sub(inner + 1)?;
    let right = (1..=behind).map(|step| (until + step) % count).find(|&i| turns_away(ring, i));
    let left = (1..=behind).map(|step| (from + count - step) % count).find(|&i| turns_away(ring, i));
    let nearest = right.into_iter().chain(left).min_by(|a, b| ring[*a].1.total_cmp(&ring[*b].1))?;
    let depth = ring[nearest].1;
    (depth >= width && across(ring, 0.95 * depth, 0.0)? <= NARROW * width).then_some(nearest)
}

/// True where an anticlockwise ring turns right by at least 45 degrees.
fn turns_away(ring: &[Xy], at: usize) -> bool {
    let count = ring.len();
    let (before, here, after) = (ring[(at + count - 1) % count], ring[at], ring[(at + 1) % count]);
    cross(unit(minus(here, before)), unit(minus(after, here))) <= -DIAGONAL + 1e-9
}

/// How wide the lot is at a depth, where it holds a place so far across; of the widest part where none does.
fn across(ring: &[Xy], depth: f64, at: f64) -> Option<f64> {
    let found = frame::crossings(ring, depth);
    let stretches = || found.chunks_exact(2).map(|ends| (ends[0].1, ends[1].1));
    let holding = stretches().find(|(from, until)| *from <= at && at <= *until);
    holding.map(|(from, until)| until - from).or_else(|| stretches().map(|(a, b)| b - a).reduce(f64::max))
}
