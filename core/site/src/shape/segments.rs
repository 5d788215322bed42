//! Segments and the vectors between points.

use geo::Coord;
use groundrule_survey::{Point, Position};
use groundrule_units::Length;

pub(crate) fn place(point: &Point) -> Coord<f64> {
    Coord { x: point.at.x.metres(), y: point.at.y.metres() }
}

pub(crate) fn position(at: Coord<f64>) -> Position {
    Position { x: Length::from_metres(at.x), y: Length::from_metres(at.y) }
}

pub(crate) fn dot(a: Coord<f64>, b: Coord<f64>) -> f64 {
    a.x * b.x + a.y * b.y
}

pub(crate) fn cross(a: Coord<f64>, b: Coord<f64>) -> f64 {
    a.x * b.y - a.y * b.x
}

pub(crate) fn norm(a: Coord<f64>) -> f64 {
    libm::hypot(a.x, a.y)
}

/// A quarter turn clockwise: for an edge of an anticlockwise ring, the way out.
pub(crate) fn right(a: Coord<f64>) -> Coord<f64> {
    Coord { x: a.y, y: -a.x }
}

/// The vector at length one; none for one too short to have a direction.
pub(crate) fn unit(a: Coord<f64>) -> Option<Coord<f64>> {
    let length = norm(a);
    (length > 0.0 && length.is_finite()).then(|| a / length)
}

/// Where on the line through `a` and `b` a point projects, zero at `a` and one at `b`; none where they coincide.
pub(crate) fn station(p: Coord<f64>, a: Coord<f64>, b: Coord<f64>) -> Option<f64> {
    let along = b - a;
    let square = dot(along, along);
    (square > 0.0).then(|| dot(p - a, along) / square)
}

/// The place at a station of a segment.
pub(crate) fn at(a: Coord<f64>, b: Coord<f64>, t: f64) -> Coord<f64> {
    a + (b - a) * t
}

/// The distance of a point from a segment.
///
/// Beside the segment it is taken square to the line and not to the rounded foot, which keeps a
/// micrometre's gap exact.
pub(crate) fn distance(p: Coord<f64>, a: Coord<f64>, b: Coord<f64>) -> f64 {
    match station(p, a, b) {
        Some(t) if t > 0.0 && t < 1.0 => (cross(b - a, p - a) / norm(b - a)).abs(),
        Some(t) if t >= 1.0 => norm(p - b),
        _ => norm(p - a),
    }
}

/// Positive when `p` lies to the left of the line from `a` to `b`, zero when on it; the sign is exact.
pub(crate) fn side(a: Coord<f64>, b: Coord<f64>, p: Coord<f64>) -> f64 {
    let exact = |c: Coord<f64>| robust::Coord { x: c.x, y: c.y };
    robust::orient2d(exact(a), exact(b), exact(p))
}

/// True when two segments share a point, ends included; decided exactly.
pub(crate) fn touch(a: Coord<f64>, b: Coord<f64>, c: Coord<f64>, d: Coord<f64>) -> bool {
    if a.x.max(b.x) < c.x.min(d.x)
        || c.x.max(d.x) < a.x.min(b.x)
        || a.y.max(b.y) < c.y.min(d.y)
        || c.y.max(d.y) < a.y.min(b.y)
    {
        return false;
    }
    let apart = |p: f64, q: f64| (p > 0.0 && q > 0.0) || (p < 0.0 && q < 0.0);
    // With boxes that meet, two segments miss each other only if one lies wholly on one side of the other.
    !apart(side(a, b, c), side(a, b, d)) && !apart(side(c, d, a), side(c, d, b))
}

/// Where the line `a`-`b` meets the line `c`-`d`, as a station on each; none when they are parallel.
pub(crate) fn meeting(a: Coord<f64>, b: Coord<f64>, c: Coord<f64>, d: Coord<f64>) -> Option<(f64, f64)> {
    let (u, v) = (b - a, d - c);
    let turn = cross(u, v);
    (turn != 0.0).then(|| (cross(c - a, v) / turn, cross(c - a, u) / turn))
}
