//! Pieces cut into convex parts, for saying how far one reaches into another.

use geo::{Coord, LineString, Polygon, TriangulateEarcut};
use groundrule_survey::Point;
use smallvec::{SmallVec, smallvec};

use super::piece::Piece;
use super::rings;
use super::segments::{place, side};

/// A convex part: a point, a segment or an anticlockwise convex ring, rounded off by a radius.
#[derive(Clone, Debug)]
pub(crate) struct Part<'a> {
    pub(crate) points: SmallVec<[&'a Point; 4]>,
    pub(crate) radius: f64,
}

impl<'a> Part<'a> {
    fn sharp(points: SmallVec<[&'a Point; 4]>) -> Self {
        Self { points, radius: 0.0 }
    }

    /// Its edges; a segment has two, one for each of its sides.
    pub(crate) fn edges(&self) -> impl Iterator<Item = (&'a Point, &'a Point)> + '_ {
        let edges = if self.points.len() < 2 { 0 } else { self.points.len() };
        self.points.iter().copied().zip(self.points.iter().copied().cycle().skip(1)).take(edges)
    }
}

/// The convex parts of a piece: triangles joined across their cuts for as long as they stay convex.
pub(crate) fn parts<'a>(piece: &'a Piece<'_>) -> Vec<Part<'a>> {
    match piece {
        Piece::Disc { centre, radius } => vec![Part { points: smallvec![*centre], radius: *radius }],
        Piece::Path(path) => {
            path.iter().zip(path.iter().skip(1)).map(|(a, b)| Part::sharp(smallvec![a, b])).collect()
        }
        Piece::Area { ring, holes } if holes.is_empty() && rings::is_convex(ring) => {
            vec![Part::sharp(ring.iter().collect())]
        }
        Piece::Area { ring, holes } => join(triangles(ring, holes)),
    }
}

fn triangles<'a>(ring: &'a [Point], holes: &'a [Vec<Point>]) -> Vec<Vec<&'a Point>> {
    // Cutting works near zero, where a double has digits to spare.
    let origin = ring.first().map_or(Coord { x: 0.0, y: 0.0 }, place);
    let line = |ring: &[Point]| LineString::new(ring.iter().map(|p| place(p) - origin).collect());
    let cut = Polygon::new(line(ring), holes.iter().map(|hole| line(hole)).collect()).earcut_triangles_raw();
    let all: Vec<&Point> = ring.iter().chain(holes.iter().flatten()).collect();
    let mut found = Vec::new();
    for corners in cut.triangle_indices.chunks_exact(3) {
        let corners: Vec<&Point> = corners.iter().filter_map(|i| all.get(*i).copied()).collect();
        let [a, b, c] = corners.as_slice() else { continue };
        let turn = side(place(a), place(b), place(c));
        if turn > 0.0 {
            found.push(vec![*a, *b, *c]);
        } else if turn < 0.0 {
            found.push(vec![*a, *c, *b]);
        }
    }
    found
}

/// Joins parts that share an edge while the whole stays convex, first come first joined.
fn join(mut parts: Vec<Vec<&Point>>) -> Vec<Part<'_>> {
    let mut i = 0;
    while i < parts.len() {
        let partner = (i + 1..parts.len()).find_map(|j| Some((j, joined(parts.get(i)?, parts.get(j)?)?)));
        match partner {
            Some((j, whole)) => {
                parts.swap_remove(j);
                parts[i] = whole;
            }
            None => i += 1,
        }
    }
    parts.into_iter().map(|part| Part::sharp(part.into_iter().collect())).collect()
}

fn joined<'a>(a: &[&'a Point], b: &[&'a Point]) -> Option<Vec<&'a Point>> {
    let same = |p: &Point, q: &Point| std::ptr::eq(p, q);
    let (n, m) = (a.len(), b.len());
    let (i, j) = (0..n).find_map(|i| {
        (0..m).find(|&j| same(a[i], b[(j + 1) % m]) && same(a[(i + 1) % n], b[j])).map(|j| (i, j))
    })?;
    // Once round `a` from the far end of the shared edge, then round `b` without that edge's ends.
    let whole: Vec<&Point> = (1..=n).map(|k| a[(i + k) % n]).chain((2..m).map(|k| b[(j + k) % m])).collect();
    let turns = |k: usize| {
        let at = |k: usize| place(whole[k % whole.len()]);
        side(at(k), at(k + 1), at(k + 2)) >= 0.0
    };
    (0..whole.len()).all(turns).then_some(whole)
}
