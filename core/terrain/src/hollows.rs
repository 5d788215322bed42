//! Closed hollows: where water stands until it spills.

use std::collections::BTreeSet;

use groundrule_units::{Area, Length, Volume};
use rayon::prelude::*;

use crate::plane::id;
use crate::tin::OUTER;
use crate::{Place, Tin, VertexId};

/// A closed hollow, filled until it spills.
///
/// Hollows make a forest. Where two of them meet below the level at which both together spill, each has its own
/// figures up to the saddle between them, and the one they make together is the parent of both.
#[derive(Clone, Debug, PartialEq)]
pub struct Hollow {
    /// Its lowest vertex; of several, the first.
    pub bottom: VertexId,
    /// The vertex over which it spills.
    pub spill: VertexId,
    /// The index of the hollow it is part of; parents come after their parts.
    pub parent: Option<usize>,
    /// From the bottom to the spill level.
    pub depth: Length,
    /// Of the water when it spills.
    pub area: Area,
    /// Of the water when it spills.
    pub volume: Volume,
    /// All vertices below the spill level, ascending.
    pub vertices: Vec<VertexId>,
    /// The edge of the water when it spills: the outer ring first, anticlockwise; islands clockwise.
    pub outlines: Vec<Vec<Place>>,
}

/// A hollow before it is measured.
struct Found {
    bottom: u32,
    spill: u32,
    vertices: Vec<u32>,
    parts: Vec<usize>,
    /// False when its parent spills at the same level and so takes its place.
    own: bool,
}

/// A connected piece of the ground below the level reached so far.
#[derive(Default)]
struct Pool {
    bottom: u32,
    /// Pools begin in the order of their bottoms, so the lower of two is the earlier.
    born: u32,
    open: bool,
    vertices: Vec<u32>,
    parts: Vec<usize>,
}

impl Tin {
    /// All closed hollows. Water leaves the ground over its outer edge and at `drains`, never over the rim of a
    /// hole, where a building stands. Ground shut in by buildings on all sides has no spill and is none, nor
    /// is level ground, which has no depth.
    pub fn hollows(&self, drains: &[VertexId]) -> Vec<Hollow> {
        let found = self.find_hollows(drains);
        let mut number = vec![None; found.len()];
        for (n, i) in (0..found.len()).filter(|i| found[*i].own).enumerate() {
            number[i] = Some(n);
        }
        let mut hollows: Vec<Hollow> = found.par_iter().filter(|f| f.own).map(|f| self.measure(f)).collect();
        for (i, whole) in found.iter().enumerate() {
            for &part in &whole.parts {
                if let (Some(part), Some(_)) = (number[part], number[i])
                    && let Some(hollow) = hollows.get_mut(part)
                {
                    hollow.parent = number[i];
                }
            }
        }
        hollows
    }

    /// Vertices that water leaves the ground over.
    pub(crate) fn open_vertices(&self, drains: &[VertexId]) -> Vec<bool> {
        let mut open = vec![false; self.vertices().len()];
        for (corners, next) in self.mesh.facets.iter().zip(&self.mesh.next) {
            for k in 0..3 {
                if next[k] == OUTER {
                    open[corners[k] as usize] = true;
                    open[corners[(k + 1) % 3] as usize] = true;
                }
            }
        }
        for drain in drains {
            if let Some(drain) = open.get_mut(drain.0 as usize) {
                *drain = true;
            }
        }
        open
    }

    /// Raises the water through all vertices in the order of (level, index) and notes where pools meet.
    fn find_hollows(&self, drains: &[VertexId]) -> Vec<Found> {
        let opens = self.open_vertices(drains);
        let count = id(opens.len());
        let mut order: Vec<u32> = (0..count).filter(|v| !self.mesh.around(*v).is_empty()).collect();
        order.sort_unstable_by(|a, b| self.z(*a).total_cmp(&self.z(*b)).then(a.cmp(b)));
        let mut forest =
            Forest { up: (0..count).collect(), pools: Vec::new(), of: vec![u32::MAX; opens.len()] };
        let mut found: Vec<Found> = Vec::new();
        for &v in &order {
            let level = self.z(v);
            let mut met: BTreeSet<u32> = BTreeSet::new();
            for &facet in self.mesh.around(v) {
                for u in self.mesh.facets[facet as usize] {
                    if forest.of[u as usize] != u32::MAX {
                        met.insert(forest.top(u));
                    }
                }
            }
            let pool = |top: &u32| &forest.pools[forest.of[*top as usize] as usize];
            let open = opens[v as usize] || met.iter().any(|top| pool(top).open);
            let deep = |top: &&u32| !pool(top).open && self.z(pool(top).bottom) < level;
            let closed: Vec<u32> = met.iter().filter(deep).copied().collect();
            let mut parts: Vec<usize> = Vec::new();
            if closed.len() > 1 || open {
                for top in closed {
                    parts.push(found.len());
                    let pool = &mut forest.pools[forest.of[top as usize] as usize];
                    let hollow = close(pool, v, level, |v| self.z(v), &mut found);
                    found.push(hollow);
                }
            }
            forest.join(v, &met, open, parts);
        }
        found
    }

    fn measure(&self, found: &Found) -> Hollow {
        let level = self.z(found.spill);
        let mut facets: Vec<u32> =
            found.vertices.iter().flat_map(|v| self.mesh.around(*v)).copied().collect();
        facets.sort_unstable();
        facets.dedup();
        let (mut area, mut volume) = (0.0, 0.0);
        for &facet in &facets {
            let (wet, held) = self.water_on(facet, level);
            area += wet;
            volume += held;
        }
        Hollow {
            bottom: VertexId(found.bottom),
            spill: VertexId(found.spill),
            parent: None,
            depth: Length::from_metres(level - self.z(found.bottom)),
            area: Area::from_square_metres(area),
            volume: Volume::from_cubic_metres(volume),
            vertices: found.vertices.iter().copied().map(VertexId).collect(),
            outlines: self.waters_edge(&facets, level),
        }
    }
}

/// The hollow that a pool is when it spills at a vertex. Parts that spill at the same level are not hollows of
/// their own: water stands in them only as high as in the whole.
fn close(pool: &mut Pool, spill: u32, level: f64, z: impl Fn(u32) -> f64, found: &mut [Found]) -> Found {
    let mut vertices: Vec<u32> = pool.vertices.iter().copied().filter(|v| z(*v) < level).collect();
    vertices.sort_unstable();
    let mut parts = Vec::new();
    for part in std::mem::take(&mut pool.parts) {
        if z(found[part].spill) < level {
            parts.push(part);
        } else {
            found[part].own = false;
            parts.append(&mut found[part].parts);
        }
    }
    Found { bottom: pool.bottom, spill, vertices, parts, own: true }
}

/// Disjoint sets of vertices below the water, each with its pool.
struct Forest {
    up: Vec<u32>,
    pools: Vec<Pool>,
    /// The pool of each vertex that heads a set; `u32::MAX` for vertices above the water.
    of: Vec<u32>,
}

impl Forest {
    fn top(&mut self, vertex: u32) -> u32 {
        let mut at = vertex;
        while self.up[at as usize] != at {
            self.up[at as usize] = self.up[self.up[at as usize] as usize];
            at = self.up[at as usize];
        }
        at
    }

    /// Makes one set of a vertex and the sets it touches. `parts` are the hollows that end here.
    fn join(&mut self, vertex: u32, met: &BTreeSet<u32>, open: bool, parts: Vec<usize>) {
        let pools: Vec<u32> = met.iter().map(|top| self.of[*top as usize]).collect();
        let size = |pool: &&u32| self.pools[**pool as usize].vertices.len();
        // The largest list is kept and the others are added to it.
        let Some(&largest) = pools.iter().max_by_key(size) else {
            let born = id(self.pools.len());
            self.of[vertex as usize] = born;
            let vertices = if open { Vec::new() } else { vec![vertex] };
            self.pools.push(Pool { bottom: vertex, born, open, vertices, parts });
            return;
        };
        let Some(head) = met.iter().copied().find(|top| self.of[*top as usize] == largest) else { return };
        let mut whole = std::mem::take(&mut self.pools[largest as usize]);
        for &pool in pools.iter().filter(|pool| **pool != largest) {
            let mut other = std::mem::take(&mut self.pools[pool as usize]);
            whole.vertices.append(&mut other.vertices);
            whole.parts.append(&mut other.parts);
            if other.born < whole.born {
                (whole.born, whole.bottom) = (other.born, other.bottom);
            }
        }
        whole.vertices.push(vertex);
        whole.parts.extend(parts);
        whole.open = open;
        if open {
            // Nothing asks any more what drains freely.
            whole.vertices = Vec::new();
            whole.parts = Vec::new();
        }
        self.pools[largest as usize] = whole;
        self.up[vertex as usize] = head;
        self.of[vertex as usize] = largest;
        for &top in met {
            self.up[top as usize] = head;
        }
    }
}
