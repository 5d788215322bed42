//! The signed depth of a yard, worked out corner by corner.

use geo::Coord;
use groundrule_survey::Point;

use crate::distance::{signed, slack};
use crate::shape::depth::beyond;
use crate::shape::gap::Gap;
use crate::shape::piece::Piece;
use crate::shape::rings::{Lies, edges, lies};
use crate::shape::segments::{distance, place, station};

/// The gaps that may decide the yard of a shape to a lot line, least first. `ring` is the lot, anticlockwise,
/// and the line runs along it with the lot on its left.
pub(crate) fn gaps<'a>(shape: &'a [Piece<'_>], line: &'a [Piece<'_>], ring: &[Point]) -> Vec<Gap<'a>> {
    let mut found: Vec<Gap<'a>> = Vec::new();
    let mut reaches_beyond = false;
    for piece in shape {
        for point in piece.points() {
            let Some((edge, off)) = nearest(line.iter().flat_map(Piece::edges), place(point)) else {
                continue;
            };
            let outside = lies(ring, place(point)) == Lies::Outside;
            // Rounding may put the nearest point of one and the same edge a hair farther off.
            let across = outside
                && nearest(edges(ring), place(point)).is_some_and(|(_, least)| off <= least * (1.0 + 1e-12));
            // The lot lies to the left of the line, so inward is to the right of it run backwards.
            let Some(gap) = beyond((edge.1, edge.0), point, piece.radius()).map(Gap::turned) else {
                continue;
            };
            let offset = gap.value + piece.radius();
            if across && offset < 0.0 {
                reaches_beyond = true;
                found.push(gap);
            } else if !outside && offset >= 0.0 && beside(place(point), edge) {
                found.push(gap);
            }
        }
    }
    if !reaches_beyond {
        return signed(shape, line);
    }
    found.sort_by(|x, y| x.value.total_cmp(&y.value));
    let bound = found.first().map_or(0.0, |least| least.value) + slack(shape, line);
    found.retain(|gap| gap.value <= bound);
    found
}

type Edge<'a> = (&'a Point, &'a Point);

fn nearest<'a>(edges: impl Iterator<Item = Edge<'a>>, p: Coord<f64>) -> Option<(Edge<'a>, f64)> {
    edges
        .map(|edge| (edge, distance(p, place(edge.0), place(edge.1))))
        .min_by(|(_, x), (_, y)| x.total_cmp(y))
}

fn beside(p: Coord<f64>, (a, b): Edge) -> bool {
    station(p, place(a), place(b)).is_some_and(|t| t > 0.0 && t < 1.0)
}
