//! Connected steep ground: banks.

use std::collections::BTreeSet;

use groundrule_units::Ratio;

use crate::plane::{Xy, dot, id};
use crate::tin::HOLE;
use crate::{FacetId, Place, Tin, VertexId};

/// Connected facets that are all steeper than a trigger.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    /// The facets, ascending; each shares an edge with another of them.
    pub facets: Vec<FacetId>,
    /// The lowest vertex; of several, the first.
    pub toe: VertexId,
    /// The highest vertex; of several, the first.
    pub crest: VertexId,
    /// The rings round the face, with the face on their left.
    pub outlines: Vec<Vec<Place>>,
    /// Where it meets gentler ground below it: runs of its edge, closed by repeating the first place.
    pub lower_edge: Vec<Vec<Place>>,
    /// Where it meets gentler ground above it, likewise.
    pub upper_edge: Vec<Vec<Place>>,
}

/// On which side of a face an edge of it is.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Lower,
    Upper,
    /// Along the fall, or at a rim.
    Neither,
}

impl Tin {
    /// All faces steeper than a slope, in the order of their first facets. An edge is a lower one when the facet
    /// of the face falls over it, and an upper one when it rises over it; at a rim it is neither.
    pub fn faces(&self, steeper_than: Ratio) -> Vec<Face> {
        let count = id(self.facets());
        let steep: Vec<bool> = (0..count).map(|f| self.gradient(FacetId(f)).slope() > steeper_than).collect();
        let mut taken = vec![false; steep.len()];
        let mut faces = Vec::new();
        for start in 0..count {
            if !steep[start as usize] || taken[start as usize] {
                continue;
            }
            let mut group = vec![start];
            taken[start as usize] = true;
            let mut done = 0;
            while let Some(&facet) = group.get(done) {
                done += 1;
                for other in self.mesh.next[facet as usize] {
                    if other < HOLE && steep[other as usize] && !taken[other as usize] {
                        taken[other as usize] = true;
                        group.push(other);
                    }
                }
            }
            group.sort_unstable();
            faces.push(self.face(&group));
        }
        faces
    }

    fn face(&self, group: &[u32]) -> Face {
        let corners: BTreeSet<u32> = group.iter().flat_map(|f| self.mesh.facets[*f as usize]).collect();
        let height = |v: &u32| self.vertices()[*v as usize].level;
        let first = corners.first().copied().unwrap_or(0);
        let toe = corners.iter().copied().min_by_key(height).unwrap_or(first);
        let crest = corners.iter().rev().copied().max_by_key(height).unwrap_or(first);
        let mut face = Face {
            facets: group.iter().copied().map(FacetId).collect(),
            toe: VertexId(toe),
            crest: VertexId(crest),
            outlines: Vec::new(),
            lower_edge: Vec::new(),
            upper_edge: Vec::new(),
        };
        for ring in self.rings_around(group) {
            face.outlines.push(ring.iter().map(|(facet, k)| self.start_of(*facet, *k)).collect());
            face.lower_edge.extend(self.runs(&ring, Side::Lower));
            face.upper_edge.extend(self.runs(&ring, Side::Upper));
        }
        face
    }

    fn start_of(&self, facet: u32, k: usize) -> Place {
        self.place(self.mesh.triangle(facet)[k % 3])
    }

    /// The rings of edges between a group and what is not in it, each as facets of the group and their edges.
    fn rings_around(&self, group: &[u32]) -> Vec<Vec<(u32, usize)>> {
        let within = |f: u32| group.binary_search(&f).is_ok();
        let mut passed = BTreeSet::new();
        let mut rings = Vec::new();
        for start in group.iter().flat_map(|f| (0..3).map(move |k| (*f, k))) {
            if within(self.mesh.next[start.0 as usize][start.1]) {
                continue;
            }
            let mut ring = Vec::new();
            let (mut facet, mut k) = start;
            while passed.insert((facet, k)) {
                ring.push((facet, k));
                // Round the corner at its end to the next edge of the group.
                k = (k + 1) % 3;
                let corner = self.mesh.facets[facet as usize][k];
                while within(self.mesh.next[facet as usize][k]) {
                    facet = self.mesh.next[facet as usize][k];
                    k = self.mesh.corner_of(facet, corner);
                }
            }
            if !ring.is_empty() {
                rings.push(ring);
            }
        }
        rings
    }

    fn side_of(&self, (facet, k): (u32, usize)) -> Side {
        if self.mesh.next[facet as usize][k] >= HOLE {
            return Side::Neither;
        }
        let triangle = self.mesh.triangle(facet);
        let (a, b): (Xy, Xy) = (triangle[k], triangle[(k + 1) % 3]);
        let rise = dot(self.slope_of(facet), [b[1] - a[1], a[0] - b[0]]);
        if rise < 0.0 {
            Side::Lower
        } else if rise > 0.0 {
            Side::Upper
        } else {
            Side::Neither
        }
    }

    /// The runs of a ring that are on one side.
    fn runs(&self, ring: &[(u32, usize)], side: Side) -> Vec<Vec<Place>> {
        let on: Vec<bool> = ring.iter().map(|edge| self.side_of(*edge) == side).collect();
        // From a place where no run goes on, so that none is parted; any place when all is one run.
        let first = on.iter().position(|on| !on).unwrap_or(0);
        let mut runs: Vec<Vec<Place>> = Vec::new();
        let mut goes_on = false;
        for n in (0..ring.len()).map(|n| (first + n) % ring.len()) {
            if on[n] {
                let (facet, k) = ring[n];
                match runs.last_mut() {
                    Some(run) if goes_on => run.push(self.start_of(facet, k + 1)),
                    _ => runs.push(vec![self.start_of(facet, k), self.start_of(facet, k + 1)]),
                }
            }
            goes_on = on[n];
        }
        runs
    }
}
