//! Closed rings: containment, orientation, area.

use std::borrow::Cow;

use geo::Coord;
use groundrule_survey::Point;

use super::segments::{cross, place, side};

/// Where a point lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Lies {
    Inside,
    OnEdge,
    Outside,
}

/// The edges of a ring, the closing one last.
pub(crate) fn edges(ring: &[Point]) -> impl Iterator<Item = (&Point, &Point)> + Clone {
    ring.iter().zip(ring.iter().cycle().skip(1))
}

/// Where a point lies with respect to a ring, by exact predicates.
pub(crate) fn lies(ring: &[Point], p: Coord<f64>) -> Lies {
    let mut inside = false;
    for (a, b) in edges(ring) {
        let (a, b) = (place(a), place(b));
        if (a.y.min(b.y)..=a.y.max(b.y)).contains(&p.y) {
            let turn = side(a, b, p);
            if turn == 0.0 && (a.x.min(b.x)..=a.x.max(b.x)).contains(&p.x) {
                return Lies::OnEdge;
            }
            // A half-open rule, so that a vertex at the height of `p` counts once.
            if (a.y > p.y) != (b.y > p.y) && ((turn > 0.0) == (b.y > a.y)) {
                inside = !inside;
            }
        }
    }
    if inside { Lies::Inside } else { Lies::Outside }
}

/// The area of a ring, positive when it runs anticlockwise; taken from its first vertex, so that far
/// coordinates cost no digits.
pub(crate) fn signed_area(ring: &[Point]) -> f64 {
    let Some(origin) = ring.first().map(place) else { return 0.0 };
    edges(ring).map(|(a, b)| cross(place(a) - origin, place(b) - origin)).sum::<f64>() / 2.0
}

/// The mean place of the corners of a ring.
pub(crate) fn middle(ring: &[Point]) -> Coord<f64> {
    let sum = ring.iter().fold(Coord { x: 0.0, y: 0.0 }, |sum, point| sum + place(point));
    sum / ring.len().max(1) as f64
}

/// The part of an anticlockwise ring on the left of a line that crosses it from edge to edge.
pub(crate) fn cut_off<'a>(ring: &'a [Point], line: &[Point]) -> Cow<'a, [Point]> {
    let (Some(from), Some(until)) = (line.first(), line.last()) else { return Cow::Borrowed(ring) };
    let before = |p: &Point| side(place(from), place(until), place(p)) > 0.0;
    let mut kept = Vec::with_capacity(ring.len() + 1);
    for (at, after) in edges(ring) {
        if before(at) {
            kept.push(at.clone());
            if !before(after) {
                kept.extend(line.iter().cloned());
            }
        }
    }
    if kept.len() > 2 { Cow::Owned(kept) } else { Cow::Borrowed(ring) }
}

/// True when a ring never turns right.
pub(crate) fn is_convex(ring: &[Point]) -> bool {
    let next = edges(ring).skip(1).chain(edges(ring)).map(|(_, after)| after);
    edges(ring).zip(next).all(|((a, b), c)| side(place(a), place(b), place(c)) >= 0.0)
}
