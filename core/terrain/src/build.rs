//! The constrained Delaunay triangulation, turned into flat arrays.

use std::collections::{BTreeMap, VecDeque};

use groundrule_units::Length;
use spade::{ConstrainedDelaunayTriangulation, HasPosition, Point2, Triangulation};

use crate::input::{Input, Place, Sparse, Trouble, Vertex};
use crate::plane::{SAME, Xy, distance, id, twice_area};
use crate::prepare::{Prepared, prepare};
use crate::tin::{HOLE, Mesh, OUTER, Tin};

/// A vertex as the triangulation holds it.
struct Spot {
    at: Point2<f64>,
    vertex: u32,
}

impl HasPosition for Spot {
    type Scalar = f64;
    fn position(&self) -> Point2<f64> {
        self.at
    }
}

type Net = ConstrainedDelaunayTriangulation<Spot>;

/// Edges by their vertices, the lower first, with the rings that run along them an odd number of times.
type Rims = BTreeMap<(u32, u32), Vec<usize>>;

/// Facets before they get their final order.
struct Raw {
    corners: Vec<[u32; 3]>,
    /// Across the edge after each corner: a facet, `OUTER`, or `HOLE` and more.
    next: Vec<[u32; 3]>,
    /// Whether each edge is a line of the input.
    fixed: Vec<[bool; 3]>,
    gone: Vec<bool>,
}

impl Tin {
    /// Triangulates levelled places, keeping lines as edges and leaving holes out.
    ///
    /// Vertices keep their indices. One that was merged into another stays in the list, and no facet uses
    /// it. Where lines cross, vertices are appended. What was got round is told beside the surface.
    pub fn build(input: &Input) -> Result<(Self, Vec<Trouble>), Sparse> {
        let mut prepared = prepare(input)?;
        let spots: Vec<Spot> = (0..prepared.xy.len())
            .filter(|&i| prepared.kept[i])
            .map(|i| Spot { at: point(prepared.xy[i]), vertex: id(i) })
            .collect();
        let mut net = Net::bulk_load(spots).map_err(|_| Sparse::Straight)?;
        let rims = constrain(&mut net, &mut prepared, input.lines.len());
        let mut raw = Raw::from_net(&net);
        if !rims.is_empty() {
            raw.leave_out_holes(&rims);
        }
        raw.peel(&prepared.xy);
        let mesh = raw.into_mesh(prepared.origin, prepared.xy, prepared.made_of);
        if mesh.facets.is_empty() {
            return Err(Sparse::Straight);
        }
        let made = mesh.xy[input.vertices.len()..].iter().zip(&prepared.levels[input.vertices.len()..]);
        let made = made.map(|(&at, &level)| Vertex {
            at: Place::from_local(at, prepared.origin),
            level: Length::from_metres(level),
        });
        let vertices: Vec<Vertex> = input.vertices.iter().copied().chain(made).collect();
        Ok((Self::new(mesh, vertices), prepared.troubles))
    }
}

/// Coordinates too small for the triangulation's predicates are nothing at all.
fn point([x, y]: Xy) -> Point2<f64> {
    let whole = |v: f64| if v.abs() < 1e-30 { 0.0 } else { v };
    Point2::new(whole(x), whole(y))
}

/// Puts the pieces in as edges, and collects those of rings.
fn constrain(net: &mut Net, prepared: &mut Prepared, lines: usize) -> Rims {
    let mut rims = Rims::new();
    if prepared.pieces.is_empty() {
        return rims;
    }
    let mut handles = vec![None; prepared.xy.len()];
    for vertex in net.vertices() {
        handles[vertex.data().vertex as usize] = Some(vertex.fix());
    }
    for piece in &prepared.pieces {
        let (Some(from), Some(to)) = (handles[piece.from as usize], handles[piece.to as usize]) else {
            continue;
        };
        let edges = net.try_add_constraint(from, to);
        if edges.is_empty() {
            prepared.troubles.push(Trouble::Dropped { segment: piece.of });
        }
        if let Some(hole) = piece.of.0.checked_sub(lines) {
            for edge in edges {
                let edge = net.directed_edge(edge);
                let (a, b) = (edge.from().data().vertex, edge.to().data().vertex);
                toggle(rims.entry((a.min(b), a.max(b))).or_default(), hole);
            }
        }
    }
    rims
}

/// Puts a hole into an ordered list, or takes it out when it is there.
fn toggle(holes: &mut Vec<usize>, hole: usize) {
    match holes.binary_search(&hole) {
        Ok(at) => {
            holes.remove(at);
        }
        Err(at) => holes.insert(at, hole),
    }
}

impl Raw {
    fn from_net(net: &Net) -> Self {
        // Facets in the order of their corners, whatever the triangulation's own order is.
        let mut order: Vec<([u32; 3], usize)> = net
            .inner_faces()
            .map(|face| (lowest_first(face.vertices().map(|v| v.data().vertex)), face.fix().index()))
            .collect();
        order.sort_unstable();
        let mut place = vec![OUTER; net.num_all_faces()];
        for (new, (_, old)) in order.iter().enumerate() {
            place[*old] = id(new);
        }
        let mut raw = Self {
            corners: order.iter().map(|(corners, _)| *corners).collect(),
            next: vec![[OUTER; 3]; order.len()],
            fixed: vec![[false; 3]; order.len()],
            gone: vec![false; order.len()],
        };
        for face in net.inner_faces() {
            let facet = place[face.fix().index()] as usize;
            for edge in face.adjacent_edges() {
                let from = edge.from().data().vertex;
                for k in 0..3 {
                    if raw.corners[facet][k] == from {
                        let beyond = edge.rev().face();
                        raw.next[facet][k] =
                            if beyond.is_outer() { OUTER } else { place[beyond.fix().index()] };
                        raw.fixed[facet][k] = edge.is_constraint_edge();
                    }
                }
            }
        }
        raw
    }

    fn edge(&self, facet: usize, k: usize) -> (u32, u32) {
        let (a, b) = (self.corners[facet][k], self.corners[facet][(k + 1) % 3]);
        (a.min(b), a.max(b))
    }

    /// Spreads inwards from outside; every rim crossed goes into or out of its holes.
    fn leave_out_holes(&mut self, rims: &Rims) {
        let mut within: Vec<Option<Vec<usize>>> = vec![None; self.corners.len()];
        let mut queue = VecDeque::new();
        let beyond = |holes: &[usize], edge: (u32, u32)| {
            let mut holes = holes.to_vec();
            for &hole in rims.get(&edge).map_or(&[][..], Vec::as_slice) {
                toggle(&mut holes, hole);
            }
            holes
        };
        for (facet, own) in within.iter_mut().enumerate() {
            if let Some(k) = (0..3).find(|k| self.next[facet][*k] == OUTER) {
                *own = Some(beyond(&[], self.edge(facet, k)));
                queue.push_back(facet);
            }
        }
        while let Some(facet) = queue.pop_front() {
            let Some(own) = within[facet].clone() else { continue };
            for k in 0..3 {
                let other = self.next[facet][k];
                if other != OUTER && within[other as usize].is_none() {
                    within[other as usize] = Some(beyond(&own, self.edge(facet, k)));
                    queue.push_back(other as usize);
                }
            }
        }
        for (facet, holes) in within.iter().enumerate() {
            if let Some(hole) = holes.as_ref().and_then(|holes| holes.first()) {
                self.remove(facet, HOLE + id(*hole));
            }
        }
    }

    /// Takes a facet out; its neighbours get the given rim.
    fn remove(&mut self, facet: usize, rim: u32) {
        self.gone[facet] = true;
        for other in self.next[facet] {
            if other < HOLE {
                for back in &mut self.next[other as usize] {
                    if *back == id(facet) {
                        *back = rim;
                    }
                }
            }
        }
    }

    /// Takes out facets at a rim that are thinner than a millimetre: they come from places meant to be in line.
    fn peel(&mut self, xy: &[Xy]) {
        let mut queue: VecDeque<usize> = (0..self.corners.len()).collect();
        while let Some(facet) = queue.pop_front() {
            if self.gone[facet] {
                continue;
            }
            let [a, b, c] = self.corners[facet].map(|v| xy[v as usize]);
            let twice = twice_area(a, b, c);
            let sides = [distance(a, b), distance(b, c), distance(c, a)];
            for k in 0..3 {
                let rim = self.next[facet][k];
                let longest = sides.iter().all(|side| *side <= sides[k]);
                if rim >= HOLE && longest && twice < SAME * sides[k] {
                    let others = self.next[facet];
                    self.remove(facet, rim);
                    queue.extend(others.iter().filter(|n| **n < HOLE).map(|n| *n as usize));
                    break;
                }
            }
        }
    }

    fn into_mesh(self, origin: Xy, xy: Vec<Xy>, made_of: Vec<(u32, u32, f64)>) -> Mesh {
        let mut place = vec![0_u32; self.corners.len()];
        let mut count = 0;
        for (facet, gone) in self.gone.iter().enumerate() {
            place[facet] = count;
            count += u32::from(!gone);
        }
        let left = || (0..self.corners.len()).filter(|facet| !self.gone[*facet]);
        let moved = |n: u32| if n < HOLE { place[n as usize] } else { n };
        let facets = left().map(|facet| self.corners[facet]).collect();
        let next = left().map(|facet| self.next[facet].map(moved)).collect();
        let fixed = left().map(|facet| self.fixed[facet]).collect();
        Mesh::new(origin, xy, facets, next, fixed, made_of)
    }
}

/// The same corners in the same sense, the lowest index first.
fn lowest_first([a, b, c]: [u32; 3]) -> [u32; 3] {
    if a < b && a < c {
        [a, b, c]
    } else if b < c {
        [b, c, a]
    } else {
        [c, a, b]
    }
}
