//! Points made from other points, each erring with them to first order.

use geo::Coord;
use groundrule_survey::{ErrorTerms, Map, Point};

use crate::shape::segments::{at, cross, norm, place, position, right, unit};

/// Two lines closer to parallel than this, by the sine of the angle between them, do not meet in a point.
const PARALLEL: f64 = 1e-4;

/// An edge: the point it starts at and the one it ends at.
pub(crate) type Edge<'a> = (&'a Point, &'a Point);

/// What stays where it is.
const SAME: Map = [[1.0, 0.0], [0.0, 1.0]];

/// The map that sends a move to `to` times its part along `by`.
fn outer(to: Coord<f64>, by: Coord<f64>) -> Map {
    [[to.x * by.x, to.x * by.y], [to.y * by.x, to.y * by.y]]
}

fn scaled(factor: f64) -> Map {
    [[factor, 0.0], [0.0, factor]]
}

/// A place that is held, whatever moves.
pub(super) fn held(to: Coord<f64>) -> Point {
    Point { at: position(to), error: ErrorTerms::Exact }
}

/// The same point at a place beside it, erring alike.
pub(super) fn beside(point: &Point, to: Coord<f64>) -> Point {
    Point { at: position(to), error: point.error.clone() }
}

/// The point at a station of an edge.
pub(crate) fn between((a, b): Edge<'_>, t: f64) -> Point {
    let error = ErrorTerms::moved_by(&[(scaled(1.0 - t), &a.error), (scaled(t), &b.error)]);
    Point { at: position(at(place(a), place(b), t)), error }
}

/// The point set off from another by so much along the direction of an edge and so much to the right of it; none
/// for an edge without a direction. It moves with that point, and swings as the edge turns.
pub(super) fn set_off(from: &Point, (a, b): Edge<'_>, along: f64, out: f64) -> Option<Point> {
    let length = norm(place(b) - place(a));
    let ahead = unit(place(b) - place(a))?;
    let aside = right(ahead);
    // Where the ends move by `da` and `db`, the edge turns by `aside . (db - da) / length` to the right.
    let swing = (aside * along - ahead * out) / length;
    let error = ErrorTerms::moved_by(&[
        (SAME, &from.error),
        (outer(swing * -1.0, aside), &a.error),
        (outer(swing, aside), &b.error),
    ]);
    Some(Point { at: position(place(from) + ahead * along + aside * out), error })
}

/// Where the lines through two edges meet; none where they are parallel.
///
/// The point stays on both lines as they move: its move across each is that line's own move there, which are
/// two equations for its two parts.
pub(super) fn meeting((a, b): Edge<'_>, (c, d): Edge<'_>) -> Option<Point> {
    let (first, second) = (unit(place(b) - place(a))?, unit(place(d) - place(c))?);
    let turn = cross(first, second);
    if turn.abs() < PARALLEL {
        return None;
    }
    let (t, s) = crate::shape::segments::meeting(place(a), place(b), place(c), place(d))?;
    let (n, m) = (right(first), right(second));
    // The inverse of the matrix whose rows are the two normals, by columns; its determinant is the same turn.
    let (by_first, by_second) = (Coord { x: m.y, y: -m.x } / turn, Coord { x: -n.y, y: n.x } / turn);
    let error = ErrorTerms::moved_by(&[
        (outer(by_first * (1.0 - t), n), &a.error),
        (outer(by_first * t, n), &b.error),
        (outer(by_second * (1.0 - s), m), &c.error),
        (outer(by_second * s, m), &d.error),
    ]);
    Some(Point { at: position(at(place(a), place(b), t)), error })
}
