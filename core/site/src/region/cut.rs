//! Solids joined and cut to shape.
//!
//! Which edges bound the result is found on a fine grid; then each vertex is put where the points and edges it
//! came from say, so that it is as exact as they are and errs with them.

use geo::{BooleanOps, Coord, LineString, MultiPolygon, Polygon};
use groundrule_survey::{Point, Shape};

use super::points::{Edge, between, held, meeting};
use super::solid::Solid;
use crate::shape::rings::signed_area;
use crate::shape::segments::{cross, distance, norm, place, station, unit};

/// The grid has about 2^30 lines across what is cut; a vertex is looked for within this share of it.
const GRID: f64 = 1.5e-8;
/// A part smaller than this, in square metres, is what rounding leaves: nothing.
const NOTHING: f64 = 1e-6;

/// The parts of what solids cover together, within an area if one is given; the largest first.
pub(super) fn cut(solids: &[Solid], within: Option<&Solid>) -> Vec<Shape> {
    let mut all = solids.iter().chain(within).flat_map(|solid| solid.rings.iter().flatten()).map(place);
    if all.any(|p| !p.x.is_finite() || !p.y.is_finite()) {
        return Vec::new();
    }
    let pool = Pool::of(within.into_iter().chain(solids));
    let polygons: Vec<Polygon> = solids.iter().map(polygon).collect();
    let joined = geo::unary_union(&polygons);
    let cut = match within {
        Some(within) => joined.intersection(&MultiPolygon::from(polygon(within))),
        None => joined,
    };
    let mut parts: Vec<(f64, Shape)> = cut.iter().filter_map(|part| pool.shape(part)).collect();
    parts.sort_by(|a, b| b.0.total_cmp(&a.0));
    parts.into_iter().map(|(_, shape)| shape).collect()
}

fn polygon(solid: &Solid) -> Polygon {
    let line = |ring: &Vec<Point>| -> LineString { ring.iter().map(place).collect() };
    let mut rings = solid.rings.iter().map(line);
    Polygon::new(rings.next().unwrap_or_else(|| LineString::new(Vec::new())), rings.collect())
}

/// What the vertices of the result came from.
struct Pool<'a> {
    points: Vec<&'a Point>,
    edges: Vec<Edge<'a>>,
    tolerance: f64,
}

impl<'a> Pool<'a> {
    fn of(solids: impl Iterator<Item = &'a Solid> + Clone) -> Self {
        let points: Vec<&Point> = solids.clone().flat_map(|solid| solid.rings.iter().flatten()).collect();
        let edges = solids.flat_map(Solid::edges).collect();
        let corner = points.first().map_or(Coord { x: 0.0, y: 0.0 }, |p| place(p));
        let extent = points.iter().map(|p| norm(place(p) - corner)).fold(0.0, f64::max);
        Self { points, edges, tolerance: 1e-9 + GRID * extent }
    }

    /// A part with its area; none when it is nothing.
    fn shape(&self, part: &Polygon) -> Option<(f64, Shape)> {
        let ring = self.ring(part.exterior(), false)?;
        let holes: Vec<Vec<Point>> =
            part.interiors().iter().filter_map(|hole| self.ring(hole, true)).collect();
        Some((signed_area(&ring), Shape::Outline { ring, holes }))
    }

    fn ring(&self, line: &LineString, clockwise: bool) -> Option<Vec<Point>> {
        let mut ring: Vec<Point> = line.coords().map(|at| self.source(*at)).collect();
        let same = |a: &Point, b: &Point| norm(place(a) - place(b)) <= self.tolerance;
        ring.dedup_by(|later, first| same(later, first));
        while ring.len() > 1 && ring.first().zip(ring.last()).is_some_and(|(a, b)| same(a, b)) {
            ring.pop();
        }
        let area = signed_area(&ring);
        if ring.len() < 3 || area.abs() < NOTHING {
            return None;
        }
        if (area < 0.0) != clockwise {
            ring.reverse();
        }
        Some(ring)
    }

    /// The point at a place of the grid: one there was, or where two edges meet.
    fn source(&self, at: Coord<f64>) -> Point {
        let off = |p: &Point| norm(place(p) - at);
        let nearest = self.points.iter().copied().min_by(|a, b| off(a).total_cmp(&off(b)));
        if let Some(point) = nearest.filter(|point| off(point) <= self.tolerance) {
            return point.clone();
        }
        let through: Vec<(Edge<'_>, Coord<f64>)> = self
            .edges
            .iter()
            .filter(|(a, b)| distance(at, place(a), place(b)) <= self.tolerance)
            .filter_map(|&(a, b)| Some(((a, b), unit(place(b) - place(a))?)))
            .collect();
        // Of all pairs that could meet here the one that meets most squarely, the first of equals.
        let mut best: Option<(f64, Edge<'_>, Edge<'_>)> = None;
        for (i, (first, way)) in through.iter().enumerate() {
            for (second, other) in through.iter().skip(i + 1) {
                let turn = cross(*way, *other).abs();
                if best.as_ref().is_none_or(|(most, ..)| turn > *most) {
                    best = Some((turn, *first, *second));
                }
            }
        }
        if let Some((turn, first, second)) = best
            && let Some(point) = meeting(first, second)
            && off(&point) * turn <= 10.0 * self.tolerance
        {
            return point;
        }
        match through.first() {
            Some(((a, b), _)) => between((a, b), station(at, place(a), place(b)).unwrap_or_default()),
            None => nearest.map_or_else(|| held(at), Point::clone),
        }
    }
}
