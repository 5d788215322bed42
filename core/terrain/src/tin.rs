//! The surface itself: vertices, facets, neighbours, slopes.

use std::sync::{Arc, OnceLock};

use groundrule_units::{Angle, Area, Length, Ratio};

use crate::input::{FacetId, Place, Vertex, VertexId};
use crate::locate::Grid;
use crate::plane::{Xy, cross, mix, sub, twice_area};

/// No neighbour: the outer edge of the ground.
pub(crate) const OUTER: u32 = u32::MAX;
/// No neighbour: `HOLE + h` is the rim of hole `h`. All facets have lower indices.
pub(crate) const HOLE: u32 = 1 << 31;

/// What is the same for all surfaces over the same triangles.
#[derive(Debug)]
pub(crate) struct Mesh {
    pub(crate) origin: Xy,
    pub(crate) xy: Vec<Xy>,
    pub(crate) facets: Vec<[u32; 3]>,
    pub(crate) next: Vec<[u32; 3]>,
    pub(crate) fixed: Vec<[bool; 3]>,
    made_of: Vec<(u32, u32, f64)>,
    starts: Vec<u32>,
    around: Vec<u32>,
    grid: OnceLock<Grid>,
}

impl Mesh {
    pub(crate) fn new(
        origin: Xy,
        xy: Vec<Xy>,
        facets: Vec<[u32; 3]>,
        next: Vec<[u32; 3]>,
        fixed: Vec<[bool; 3]>,
        made_of: Vec<(u32, u32, f64)>,
    ) -> Self {
        let mut starts = vec![0_u32; xy.len() + 1];
        for &v in facets.iter().flatten() {
            starts[v as usize + 1] += 1;
        }
        for v in 1..starts.len() {
            starts[v] += starts[v - 1];
        }
        let mut fill = starts.clone();
        let mut around = vec![0; facets.len() * 3];
        for (facet, corners) in (0_u32..).zip(&facets) {
            for &v in corners {
                around[fill[v as usize] as usize] = facet;
                fill[v as usize] += 1;
            }
        }
        Self { origin, xy, facets, next, fixed, made_of, starts, around, grid: OnceLock::new() }
    }

    /// The facets that have a vertex as a corner, ascending.
    pub(crate) fn around(&self, vertex: u32) -> &[u32] {
        &self.around[self.starts[vertex as usize] as usize..self.starts[vertex as usize + 1] as usize]
    }

    pub(crate) fn triangle(&self, facet: u32) -> [Xy; 3] {
        self.facets[facet as usize].map(|v| self.xy[v as usize])
    }

    pub(crate) fn corner_of(&self, facet: u32, vertex: u32) -> usize {
        self.facets[facet as usize].iter().position(|v| *v == vertex).unwrap_or(0)
    }

    /// The edge of `facet` beyond which `other` lies.
    pub(crate) fn edge_to(&self, facet: u32, other: u32) -> usize {
        self.next[facet as usize].iter().position(|n| *n == other).unwrap_or(0)
    }

    pub(crate) fn grid(&self) -> &Grid {
        self.grid
            .get_or_init(|| Grid::new(self.facets.len(), |f| self.facets[f].map(|v| self.xy[v as usize])))
    }

    pub(crate) fn area(&self, facet: u32) -> f64 {
        let [a, b, c] = self.triangle(facet);
        twice_area(a, b, c) / 2.0
    }
}

/// What ends the ground at an edge without a neighbour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rim {
    /// Beyond it no level is known.
    Outer,
    /// The ring of this hole, by its index in the input.
    Hole(usize),
}

/// How the level changes over a facet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Gradient {
    /// Rise towards the east.
    pub x: Ratio,
    /// Rise towards the north.
    pub y: Ratio,
}

impl Gradient {
    /// The slope in the steepest direction, never negative.
    pub fn slope(self) -> Ratio {
        Ratio::from_fraction(libm::hypot(self.x.fraction(), self.y.fraction()))
    }

    /// The direction in which it falls most, anticlockwise from east; none on level ground.
    pub fn downhill(self) -> Option<Angle> {
        let (x, y) = (self.x.fraction(), self.y.fraction());
        (x.abs() + y.abs() > 0.0).then(|| Angle::from_radians(libm::atan2(-y, -x)))
    }
}

/// A triangulated irregular network of levels: flat facets that meet edge to edge.
#[derive(Clone, Debug)]
pub struct Tin {
    pub(crate) mesh: Arc<Mesh>,
    vertices: Vec<Vertex>,
}

impl Tin {
    pub(crate) fn new(mesh: Mesh, vertices: Vec<Vertex>) -> Self {
        Self { mesh: Arc::new(mesh), vertices }
    }

    /// What a vertex appended at a crossing was interpolated from: the ends of the first of the crossing
    /// segments and their weights. None for the vertices of the input. Where lines were cut more than once
    /// an end may be an appended vertex itself.
    pub fn made_of(&self, vertex: VertexId) -> Option<[(VertexId, f64); 2]> {
        let first = self.vertices.len() - self.mesh.made_of.len();
        let made = (vertex.0 as usize).checked_sub(first)?;
        self.mesh.made_of.get(made).map(|&(a, b, t)| [(VertexId(a), 1.0 - t), (VertexId(b), t)])
    }

    /// All vertices: those of the input, then those appended.
    pub fn vertices(&self) -> &[Vertex] {
        &self.vertices
    }

    /// The number of facets; their ids count from 0.
    pub fn facets(&self) -> usize {
        self.mesh.facets.len()
    }

    /// The ids of all facets.
    pub fn facet_ids(&self) -> impl Iterator<Item = FacetId> + use<> {
        (0..crate::plane::id(self.facets())).map(FacetId)
    }

    /// The corners of a facet of this surface, anticlockwise.
    pub fn corners(&self, facet: FacetId) -> [VertexId; 3] {
        self.mesh.facets[facet.0 as usize].map(VertexId)
    }

    /// The facets across the edges that follow each corner; none at a rim.
    pub fn neighbours(&self, facet: FacetId) -> [Option<FacetId>; 3] {
        self.mesh.next[facet.0 as usize].map(|n| (n < HOLE).then_some(FacetId(n)))
    }

    /// What ends the ground at the edge after corner `edge` (0 to 2); none where there is a neighbour.
    pub fn rim(&self, facet: FacetId, edge: usize) -> Option<Rim> {
        rim_of(*self.mesh.next[facet.0 as usize].get(edge)?)
    }

    /// Whether the edge after corner `edge` (0 to 2) runs along a line or ring of the input.
    pub fn is_line(&self, facet: FacetId, edge: usize) -> bool {
        self.mesh.fixed[facet.0 as usize].get(edge).copied().unwrap_or(false)
    }

    /// Whether the surface has this vertex as a corner; a merged one, or one inside a hole, is not.
    pub fn is_used(&self, vertex: VertexId) -> bool {
        (vertex.0 as usize) < self.vertices.len() && !self.mesh.around(vertex.0).is_empty()
    }

    /// The facets that have a vertex as a corner, ascending.
    pub fn facets_around(&self, vertex: VertexId) -> impl Iterator<Item = FacetId> + '_ {
        let known = (vertex.0 as usize) < self.vertices.len();
        let around = if known { self.mesh.around(vertex.0) } else { &[] };
        around.iter().copied().map(FacetId)
    }

    /// The same triangles with other levels, in the order of the vertices. Where the list is shorter, the
    /// vertices of the input keep theirs and those appended at crossings follow what they are made of.
    pub fn with_levels(&self, levels: &[Length]) -> Self {
        let mut vertices = self.vertices.clone();
        for (vertex, level) in vertices.iter_mut().zip(levels) {
            vertex.level = *level;
        }
        let first = vertices.len() - self.mesh.made_of.len();
        for (made, &(a, b, t)) in self.mesh.made_of.iter().enumerate() {
            if first + made >= levels.len() {
                let level = |v: u32| vertices[v as usize].level.metres();
                vertices[first + made].level = Length::from_metres(mix(level(a), level(b), t));
            }
        }
        Self { mesh: Arc::clone(&self.mesh), vertices }
    }

    /// How the level changes over a facet.
    pub fn gradient(&self, facet: FacetId) -> Gradient {
        let [x, y] = self.slope_of(facet.0);
        Gradient { x: Ratio::from_fraction(x), y: Ratio::from_fraction(y) }
    }

    /// How the gradient follows the levels of the corners: for each corner the change towards the east and
    /// towards the north for each metre it rises, in parts of one per metre.
    pub fn gradient_weights(&self, facet: FacetId) -> [[f64; 2]; 3] {
        let [a, b, c] = self.mesh.triangle(facet.0);
        let (ab, ac) = (sub(b, a), sub(c, a));
        let twice = cross(ab, ac);
        let second = [ac[1] / twice, -ac[0] / twice];
        let third = [-ab[1] / twice, ab[0] / twice];
        [[-second[0] - third[0], -second[1] - third[1]], second, third]
    }

    pub(crate) fn slope_of(&self, facet: u32) -> Xy {
        let [a, b, c] = self.mesh.triangle(facet);
        let [p, q, r] = self.levels_of(facet);
        let (ab, ac) = (sub(b, a), sub(c, a));
        let (up, vp) = (q - p, r - p);
        let twice = cross(ab, ac);
        [(up * ac[1] - vp * ab[1]) / twice, (vp * ab[0] - up * ac[0]) / twice]
    }

    pub(crate) fn z(&self, vertex: u32) -> f64 {
        self.vertices[vertex as usize].level.metres()
    }

    pub(crate) fn levels_of(&self, facet: u32) -> [f64; 3] {
        self.mesh.facets[facet as usize].map(|v| self.z(v))
    }

    pub(crate) fn place(&self, at: Xy) -> Place {
        Place::from_local(at, self.mesh.origin)
    }

    /// The weights of the corners of a facet at a place, which sum to one; negative outside the facet.
    pub fn weights(&self, facet: FacetId, place: Place) -> [f64; 3] {
        self.weights_local(facet.0, place.local(self.mesh.origin))
    }

    pub(crate) fn weights_local(&self, facet: u32, p: Xy) -> [f64; 3] {
        let [a, b, c] = self.mesh.triangle(facet);
        let parts = [twice_area(p, b, c), twice_area(p, c, a), twice_area(p, a, b)];
        let whole = twice_area(a, b, c);
        parts.map(|part| part / whole)
    }

    /// The level of the ground at a place; none where there is no ground.
    pub fn level(&self, place: Place) -> Option<Length> {
        let facet = self.facet_at(place)?;
        Some(Length::from_metres(self.level_on(facet.0, place.local(self.mesh.origin))))
    }

    pub(crate) fn level_on(&self, facet: u32, p: Xy) -> f64 {
        // A place beside the rim has the level of the rim.
        let weights = self.weights_local(facet, p).map(|w| w.clamp(0.0, 1.0));
        let whole: f64 = weights.iter().sum();
        let levels = self.levels_of(facet);
        weights.iter().zip(levels).map(|(w, z)| w / whole * z).sum()
    }

    /// The area of a facet in plan.
    pub fn area(&self, facet: FacetId) -> Area {
        Area::from_square_metres(self.mesh.area(facet.0))
    }

    /// The area of all facets in plan.
    pub fn plan_area(&self) -> Area {
        self.facet_ids().map(|f| self.area(f)).sum()
    }

    /// The area of the surface itself, along its slopes.
    pub fn surface_area(&self) -> Area {
        self.facet_ids()
            .map(|f| {
                let [x, y] = self.slope_of(f.0);
                self.area(f) * libm::sqrt(1.0 + x * x + y * y)
            })
            .sum()
    }

    /// The least slope of all facets, the mean weighted by their areas in plan, and the greatest.
    pub fn steepness(&self) -> (Ratio, Ratio, Ratio) {
        let (mut least, mut greatest) = (f64::INFINITY, 0.0_f64);
        let (mut sum, mut area) = (0.0, 0.0);
        for f in self.facet_ids() {
            let slope = self.gradient(f).slope().fraction();
            let own = self.mesh.area(f.0);
            least = least.min(slope);
            greatest = greatest.max(slope);
            sum += own * slope;
            area += own;
        }
        (Ratio::from_fraction(least), Ratio::from_fraction(sum / area), Ratio::from_fraction(greatest))
    }
}

/// What a neighbour's entry says of a rim.
pub(crate) fn rim_of(next: u32) -> Option<Rim> {
    match next {
        OUTER => Some(Rim::Outer),
        HOLE.. => Some(Rim::Hole((next - HOLE) as usize)),
        _ => None,
    }
}
