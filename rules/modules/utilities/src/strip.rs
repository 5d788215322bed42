//! The ring around a strip beside a line, for the drawing.

use groundrule_kit::{Length, Place};

/// An eighth turn, as its sine and cosine.
const EIGHTH: f64 = std::f64::consts::FRAC_1_SQRT_2;
/// A corner is cut where it would stand out more than this many times the half width.
const SHARP: f64 = 3.0;

#[derive(Clone, Copy)]
struct Point {
    x: f64,
    y: f64,
}

impl Point {
    fn place(self) -> Place {
        Place { x: Length::from_metres(self.x), y: Length::from_metres(self.y) }
    }

    fn plus(self, way: Self, times: f64) -> Self {
        Self { x: self.x + way.x * times, y: self.y + way.y * times }
    }

    /// A quarter turn to the left.
    fn left(self) -> Self {
        Self { x: -self.y, y: self.x }
    }

    /// An eighth turn to the left.
    fn half_left(self) -> Self {
        Self { x: (self.x - self.y) * EIGHTH, y: (self.x + self.y) * EIGHTH }
    }

    /// The direction halfway to another, one long.
    fn between(self, other: Self) -> Self {
        unit(Self { x: self.x + other.x, y: self.y + other.y }).unwrap_or(self)
    }
}

/// A direction one long; none of nothing.
fn unit(way: Point) -> Option<Point> {
    let long = (way.x * way.x + way.y * way.y).sqrt();
    (long > 1e-9).then(|| Point { x: way.x / long, y: way.y / long })
}

/// The ring that lies so far from a path all round it, its ends rounded by eight chords each. None for less than
/// two places.
pub(crate) fn around(path: &[Place], half: Length) -> Option<Vec<Place>> {
    let mut points: Vec<Point> = Vec::new();
    for place in path {
        let point = Point { x: place.x.metres(), y: place.y.metres() };
        let apart = |last: &Point| unit(Point { x: point.x - last.x, y: point.y - last.y }).is_some();
        if points.last().is_none_or(apart) {
            points.push(point);
        }
    }
    let ways: Vec<Point> = points
        .iter()
        .zip(points.iter().skip(1))
        .filter_map(|(from, to)| unit(Point { x: to.x - from.x, y: to.y - from.y }))
        .collect();
    let (first, last) = (*ways.first()?, *ways.last()?);
    let (start, end) = (*points.first()?, *points.last()?);
    let half = half.metres();

    let mut ring = Vec::new();
    side(&mut ring, &points, &ways, half);
    cap(&mut ring, end, last, half);
    let back: Vec<Point> = points.iter().rev().copied().collect();
    let ways: Vec<Point> = ways.iter().rev().map(|way| Point { x: -way.x, y: -way.y }).collect();
    side(&mut ring, &back, &ways, half);
    cap(&mut ring, start, Point { x: -first.x, y: -first.y }, half);
    Some(ring.into_iter().map(Point::place).collect())
}

/// The right side of a path, corner by corner.
fn side(ring: &mut Vec<Point>, points: &[Point], ways: &[Point], half: f64) {
    let right = |way: Point| Point { x: way.y, y: -way.x };
    for (at, point) in points.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|at| ways.get(at)).copied();
        let after = ways.get(at).copied();
        match (before, after) {
            (Some(before), Some(after)) => {
                let (a, b) = (right(before), right(after));
                let corner = Point { x: a.x + b.x, y: a.y + b.y };
                let square = corner.x * corner.x + corner.y * corner.y;
                let reach = 2.0 / square.max(1e-9);
                if reach * square.sqrt() <= SHARP {
                    ring.push(point.plus(corner, reach * half));
                } else {
                    ring.extend([point.plus(a, half), point.plus(b, half)]);
                }
            }
            (Some(way), None) | (None, Some(way)) => ring.push(point.plus(right(way), half)),
            (None, None) => {}
        }
    }
}

/// A half turn around the end of a path that runs this way, from its right to its left, without its two ends.
fn cap(ring: &mut Vec<Point>, end: Point, way: Point, half: f64) {
    let right = Point { x: way.y, y: -way.x };
    let quarters = [right, right.half_left(), way, way.half_left(), way.left()];
    for (from, to) in quarters.iter().zip(quarters.iter().skip(1)) {
        if from.x.to_bits() != right.x.to_bits() || from.y.to_bits() != right.y.to_bits() {
            ring.push(end.plus(*from, half));
        }
        ring.push(end.plus(from.between(*to), half));
    }
}
