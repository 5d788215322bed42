//! A line or an outline as one walks along it from its first vertex: where one is, and what lies beside.

use crate::ErrorTerms;
use crate::curves::Xy;
use crate::error::scaled;
use crate::layout::Point;
use crate::places::{ResolvedPath, position, xy};

/// Places nearer than this along a line are one.
pub(crate) const SAME: f64 = 1e-6;
/// How far an outer corner of a line beside another may stand off it, in widths: a sharper one is cut off.
const MITRE: f64 = 4.0;

/// The points of a line with their distances along it.
pub(crate) struct Run {
    points: Vec<Point>,
    /// Distance from the first point, in metres.
    along: Vec<f64>,
    /// For each vertex as drawn, how far along it stands.
    vertices: Vec<f64>,
    /// From the first point to the last, and on to the first where it is closed.
    length: f64,
    closed: bool,
}

impl Run {
    /// The run of a path as drawn.
    pub(crate) fn of(path: &ResolvedPath, closed: bool) -> Self {
        let mut points: Vec<Point> = Vec::with_capacity(path.points.len());
        let mut along: Vec<f64> = Vec::with_capacity(path.points.len());
        let mut gone = Vec::with_capacity(path.points.len());
        let mut total = 0.0;
        for point in &path.points {
            let step = points.last().map_or(0.0, |last| distance(last, point));
            if points.is_empty() || step > SAME {
                total += step;
                points.push(point.clone());
                along.push(total);
            }
            gone.push(total);
        }
        let back = points.last().zip(points.first()).map_or(0.0, |(last, first)| distance(last, first));
        let vertices = path.vertex_at.iter().map(|at| gone.get(*at).copied().unwrap_or(total)).collect();
        let length = if closed { total + back } else { total };
        Self { points, along, vertices, length, closed }
    }

    pub(crate) fn length(&self) -> f64 {
        self.length
    }

    pub(crate) fn is_closed(&self) -> bool {
        self.closed
    }

    pub(crate) fn points(&self) -> &[Point] {
        &self.points
    }

    /// How far along a vertex as drawn stands.
    pub(crate) fn vertex(&self, at: usize) -> Option<f64> {
        self.vertices.get(at).copied()
    }

    /// True where the last vertex as drawn is so far along.
    pub(crate) fn ends_at(&self, along: f64) -> bool {
        self.vertices.last().is_some_and(|last| (last - along).abs() <= SAME)
    }

    /// How far along the points between two places are; the ends are not among them.
    pub(crate) fn between(&self, from: f64, to: f64) -> Vec<f64> {
        let first = self.along.partition_point(|along| *along <= from + SAME);
        let inside = self.along.iter().skip(first).take_while(|along| **along < to - SAME);
        inside.copied().collect()
    }

    /// The point so far along, and so far to the left of it; it moves as the line does.
    pub(crate) fn point(&self, along: f64, left: f64) -> Option<Point> {
        let on = self.on(along)?;
        if left == 0.0 {
            return Some(on);
        }
        let (x, y) = xy(&on);
        let (nx, ny) = self.left(along)?;
        Some(Point { at: position((x + nx * left, y + ny * left)), error: on.error })
    }

    fn on(&self, along: f64) -> Option<Point> {
        let after = self.along.partition_point(|at| *at <= along + SAME);
        let before = after.saturating_sub(1);
        let (start, at) = (self.points.get(before)?, self.along.get(before)?);
        if along - at <= SAME {
            return Some(start.clone());
        }
        let (end, until) = match (self.points.get(after), self.along.get(after)) {
            (Some(end), Some(until)) => (end, *until),
            _ => (self.points.first().filter(|_| self.closed)?, self.length),
        };
        let share = ((along - at) / (until - at)).clamp(0.0, 1.0);
        let ((ax, ay), (bx, by)) = (xy(start), xy(end));
        let at = position((ax + (bx - ax) * share, ay + (by - ay) * share));
        let parts = [(scaled(1.0 - share), &start.error), (scaled(share), &end.error)];
        Some(Point { at, error: ErrorTerms::moved_by(&parts) })
    }

    /// The direction to the left of an open line; at a corner that between its two sides, as long as it takes to keep
    /// the same distance from both.
    fn left(&self, along: f64) -> Option<Xy> {
        let segments = self.points.len().checked_sub(1)?;
        let after = self.along.partition_point(|at| *at <= along + SAME);
        let before = self.along.partition_point(|at| *at < along - SAME);
        let normal = |segment: usize| -> Option<Xy> {
            let (a, b) = (xy(self.points.get(segment)?), xy(self.points.get(segment + 1)?));
            let (dx, dy) = (b.0 - a.0, b.1 - a.1);
            let length = libm::hypot(dx, dy);
            (length > 0.0).then(|| (-dy / length, dx / length))
        };
        let last = segments.checked_sub(1)?;
        let came = normal(before.saturating_sub(1).min(last))?;
        let goes = normal(after.saturating_sub(1).min(last))?;
        let together = 1.0 + came.0 * goes.0 + came.1 * goes.1;
        if together < 2.0 / (MITRE * MITRE) {
            return Some(came);
        }
        Some(((came.0 + goes.0) / together, (came.1 + goes.1) / together))
    }
}

fn distance(a: &Point, b: &Point) -> f64 {
    let ((ax, ay), (bx, by)) = (xy(a), xy(b));
    libm::hypot(bx - ax, by - ay)
}
