//! Simple areas that a region is the union of.

use std::f64::consts::{PI, TAU};

use geo::Coord;
use groundrule_survey::Point;

use super::points::{Edge, beside, set_off};
use crate::shape::rings;
use crate::shape::segments::{cross, dot, place, right, unit};

/// The greatest distance between a rounded end and the chords that stand for it: 1 mm.
const SAGITTA: f64 = 0.001;
/// The most chords of a whole circle. Beyond a radius of 105 m they stay within one part in 100,000 of it.
const MOST_CHORDS: f64 = 720.0;

/// An outline: its outer ring anticlockwise, its holes clockwise.
#[derive(Clone, Debug)]
pub(super) struct Solid {
    pub(super) rings: Vec<Vec<Point>>,
}

impl Solid {
    pub(super) fn area(ring: &[Point], holes: &[Vec<Point>]) -> Self {
        Self { rings: std::iter::once(ring.to_vec()).chain(holes.iter().cloned()).collect() }
    }

    /// A single ring, turned to run anticlockwise.
    pub(super) fn ring(mut ring: Vec<Point>) -> Self {
        if rings::signed_area(&ring) < 0.0 {
            ring.reverse();
        }
        Self { rings: vec![ring] }
    }

    pub(super) fn len(&self) -> usize {
        self.rings.iter().map(Vec::len).sum()
    }

    pub(super) fn edges(&self) -> impl Iterator<Item = Edge<'_>> {
        self.rings.iter().flat_map(|ring| rings::edges(ring))
    }
}

/// The band along an edge, `left` and `right` of it; none for an edge without a direction.
fn band(edge: Edge<'_>, left: f64, out: f64) -> Option<Solid> {
    let (a, b) = edge;
    let corner = |end, off| set_off(end, edge, 0.0, off);
    Some(Solid::ring(vec![corner(a, out)?, corner(b, out)?, corner(b, -left)?, corner(a, -left)?]))
}

/// The sector of a circle from one direction anticlockwise through an angle, erring with its centre.
fn sector(centre: &Point, radius: f64, from: Coord<f64>, sweep: f64) -> Solid {
    let start = libm::atan2(from.y, from.x);
    let step = (2.0 * libm::acos((1.0 - SAGITTA / radius).max(-1.0))).max(TAU / MOST_CHORDS);
    let chords = (sweep / step).ceil().clamp(1.0, MOST_CHORDS);
    let on = |part: f64| {
        let (sin, cos) = libm::sincos(start + sweep * part / chords);
        beside(centre, place(centre) + Coord { x: cos, y: sin } * radius)
    };
    let whole = sweep >= TAU;
    let mut ring = if whole { Vec::new() } else { vec![centre.clone()] };
    let mut part = 0.0;
    while part < chords || (part <= chords && !whole) {
        ring.push(on(part));
        part += 1.0;
    }
    Solid::ring(ring)
}

/// A circle.
pub(super) fn disc(centre: &Point, radius: f64) -> Solid {
    sector(centre, radius, Coord { x: 1.0, y: 0.0 }, TAU)
}

/// All within a reach of a line: bands along its edges, sectors at its bends and half circles at its ends.
pub(super) fn around_path(path: &[Point], reach: f64) -> Vec<Solid> {
    along_path(path, reach, |_, _, _| PI)
}

/// All within a reach of a line, but its ends rounded no farther than is asked: from the left of the line through an
/// angle towards its other side. `round` is told the end, the way
/// out of the line there and whether it is the start.
pub(super) fn along_path(
    path: &[Point],
    reach: f64,
    round: impl Fn(&Point, Coord<f64>, bool) -> f64,
) -> Vec<Solid> {
    let edges: Vec<(Edge<'_>, Coord<f64>)> = path
        .iter()
        .zip(path.iter().skip(1))
        .filter_map(|(a, b)| Some(((a, b), unit(place(b) - place(a))?)))
        .collect();
    let (Some((first, start)), Some((last, end))) = (edges.first(), edges.last()) else {
        return path.first().map(|point| disc(point, reach)).into_iter().collect();
    };
    let mut solids: Vec<Solid> = edges.iter().filter_map(|(edge, _)| band(*edge, reach, reach)).collect();
    for ((before, way), (_, next)) in edges.iter().zip(edges.iter().skip(1)) {
        solids.extend(bend(before.1, *way, *next, reach));
    }
    // Anticlockwise, the part before the start begins on its left, and the part after the end ends there.
    let before = round(first.0, *start * -1.0, true);
    if before > 0.0 {
        solids.push(sector(first.0, reach, right(*start) * -1.0, before));
    }
    let after = round(last.1, *end, false);
    if after > 0.0 {
        let (sin, cos) = libm::sincos(after);
        solids.push(sector(last.1, reach, *end * sin - right(*end) * cos, after));
    }
    solids
}

/// All within a reach outside of a ring that has its inside on the left.
pub(super) fn around_ring(ring: &[Point], reach: f64) -> Vec<Solid> {
    let edges: Vec<(Edge<'_>, Coord<f64>)> =
        rings::edges(ring).filter_map(|(a, b)| Some(((a, b), unit(place(b) - place(a))?))).collect();
    let mut solids: Vec<Solid> = edges.iter().filter_map(|(edge, _)| band(*edge, 0.0, reach)).collect();
    for ((before, way), (_, next)) in edges.iter().zip(edges.iter().cycle().skip(1)) {
        if cross(*way, *next) >= 0.0 {
            solids.extend(bend(before.1, *way, *next, reach));
        }
    }
    solids
}

/// The sector on the outside of a bend; none where the line goes straight on.
fn bend(at: &Point, way: Coord<f64>, next: Coord<f64>, reach: f64) -> Option<Solid> {
    let turn = libm::atan2(cross(way, next), dot(way, next));
    if turn > 0.0 {
        // It bends to the left, so the open side is on the right.
        Some(sector(at, reach, right(way), turn))
    } else if turn < 0.0 {
        Some(sector(at, reach, right(next) * -1.0, -turn))
    } else {
        None
    }
}
