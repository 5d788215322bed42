//! A side of a lot, measured as far as its role hangs on it.

use groundrule_plan::Role;

use super::Side;
use crate::Position;
pub(super) use crate::curves::Xy;

/// A side of a lot.
pub(super) struct Line {
    /// Along its edges, in metres.
    pub(super) length: f64,
    /// Square to its chord, away from the lot.
    pub(super) outward: Xy,
    /// Halfway along it.
    pub(super) middle: Xy,
    /// True when it lies along a street.
    pub(super) facing: bool,
}

impl Line {
    pub(super) fn new(side: &Side) -> Self {
        let path: Vec<Xy> = side.path.iter().map(flat).collect();
        let ends = |path: &[Xy]| match (path.first(), path.last()) {
            (Some(&first), Some(&last)) => minus(last, first),
            _ => (0.0, 0.0),
        };
        let mut chord = ends(&path);
        // A side that runs all round has no chord; its first edge stands in.
        if length(chord) <= 0.0 {
            chord = ends(path.get(..2).unwrap_or_default());
        }
        let chord = unit(chord);
        let street = matches!(side.stated, Some(Role::Front | Role::StreetSide));
        Self {
            length: path_length(&path),
            outward: (chord.1, -chord.0),
            middle: halfway(&path).unwrap_or_default(),
            facing: side.street.is_some() || street,
        }
    }
}

pub(super) fn flat(at: &Position) -> Xy {
    (at.x.metres(), at.y.metres())
}

pub(super) fn minus(a: Xy, b: Xy) -> Xy {
    (a.0 - b.0, a.1 - b.1)
}

pub(super) fn dot(a: Xy, b: Xy) -> f64 {
    a.0 * b.0 + a.1 * b.1
}

pub(super) fn cross(a: Xy, b: Xy) -> f64 {
    a.0 * b.1 - a.1 * b.0
}

pub(super) fn length(a: Xy) -> f64 {
    libm::hypot(a.0, a.1)
}

/// The same direction with length one; zero stays zero.
pub(super) fn unit(a: Xy) -> Xy {
    let size = length(a);
    if size > 0.0 { (a.0 / size, a.1 / size) } else { (0.0, 0.0) }
}

fn path_length(path: &[Xy]) -> f64 {
    path.windows(2).map(|piece| length(minus(piece[1], piece[0]))).sum()
}

/// The place halfway along a path.
fn halfway(path: &[Xy]) -> Option<Xy> {
    let mut left = path_length(path) * 0.5;
    for piece in path.windows(2) {
        let way = minus(piece[1], piece[0]);
        let size = length(way);
        if left <= size && size > 0.0 {
            let t = left / size;
            return Some((piece[0].0 + t * way.0, piece[0].1 + t * way.1));
        }
        left -= size;
    }
    path.last().copied()
}
