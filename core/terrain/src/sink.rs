//! What takes water up on its way.

use crate::plane::{Frame, Xy, cross, edges, inside, sub};
use crate::{Place, Tin, VertexId};

/// Where water is taken up.
#[derive(Clone, Debug, PartialEq)]
pub enum Sink {
    /// At a vertex of the surface.
    At {
        /// The vertex.
        vertex: VertexId,
    },
    /// Wherever a course enters a ring.
    Inside {
        /// The ring, which closes by itself.
        ring: Vec<Place>,
    },
}

/// Sinks made ready for many courses.
pub(crate) struct Sinks {
    vertices: Vec<(u32, usize)>,
    rings: Vec<(usize, Frame, Vec<Xy>)>,
}

impl Sinks {
    pub(crate) fn new(tin: &Tin, sinks: &[Sink]) -> Self {
        let mut ready = Self { vertices: Vec::new(), rings: Vec::new() };
        for (i, sink) in sinks.iter().enumerate() {
            match sink {
                Sink::At { vertex } => ready.vertices.push((vertex.0, i)),
                Sink::Inside { ring } => {
                    let ring: Vec<Xy> = ring.iter().map(|p| p.local(tin.mesh.origin)).collect();
                    ready.rings.push((i, Frame::of(&ring), ring));
                }
            }
        }
        ready.vertices.sort_unstable();
        ready
    }

    pub(crate) fn at_vertex(&self, vertex: u32) -> Option<usize> {
        let first = self.vertices.partition_point(|(v, _)| *v < vertex);
        self.vertices.get(first).filter(|(v, _)| *v == vertex).map(|(_, i)| *i)
    }

    pub(crate) fn around(&self, p: Xy) -> Option<usize> {
        let own = Frame::of(&[p]);
        self.rings.iter().find(|(_, frame, ring)| frame.meets(&own) && inside(ring, p)).map(|(i, ..)| *i)
    }

    /// The first ring that a segment from outside enters, and where on it.
    pub(crate) fn entered(&self, a: Xy, b: Xy) -> Option<(f64, usize)> {
        let own = Frame::of(&[a, b]);
        let mut first: Option<(f64, usize)> = None;
        for (i, _, ring) in self.rings.iter().filter(|(_, frame, _)| frame.meets(&own)) {
            for (p, q) in edges(ring) {
                let (along, edge) = (sub(b, a), sub(q, p));
                let across = cross(along, edge);
                let t = cross(sub(p, a), edge) / across;
                let u = cross(sub(p, a), along) / across;
                let hit = (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u);
                if hit && first.is_none_or(|(other, _)| t < other) {
                    first = Some((t, *i));
                }
            }
        }
        first
    }
}
