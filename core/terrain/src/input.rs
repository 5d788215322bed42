//! What a surface is made from, and what can be wrong with it.

use std::fmt;

use groundrule_units::Length;

use crate::plane::Xy;

/// A place in plan: metres east and north in the plane of the site.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// East.
    pub x: Length,
    /// North.
    pub y: Length,
}

impl Place {
    /// As numbers of metres, seen from `origin`.
    pub(crate) fn local(self, origin: Xy) -> Xy {
        [self.x.metres() - origin[0], self.y.metres() - origin[1]]
    }

    /// From numbers of metres seen from `origin`.
    pub(crate) fn from_local(at: Xy, origin: Xy) -> Self {
        Self { x: Length::from_metres(at[0] + origin[0]), y: Length::from_metres(at[1] + origin[1]) }
    }
}

/// A place whose level is known, over whatever datum the caller uses for all of them.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Vertex {
    /// Where.
    pub at: Place,
    /// How high.
    pub level: Length,
}

/// The index of a vertex: that of `Input::vertices`, then those appended at crossings.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct VertexId(pub u32);

/// The index of a facet of one surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FacetId(pub u32);

/// What a surface is built from.
#[derive(Clone, Debug, Default)]
pub struct Input {
    /// Places with levels.
    pub vertices: Vec<Vertex>,
    /// Lines the surface must keep as edges, each a run of indices of vertices; closed by repeating the first.
    pub lines: Vec<Vec<u32>>,
    /// Rings of indices of vertices inside which there is no ground; closed by themselves.
    pub holes: Vec<Vec<u32>>,
}

/// Something odd in the input that was got round.
///
/// A segment is named by its line and its number in it, from 0. The rings of holes count as lines after the
/// last line: hole `h` is line `lines.len() + h`.
#[derive(Clone, Debug, PartialEq)]
pub enum Trouble {
    /// Two vertices within a millimetre of each other with different levels; the first is kept.
    Twice {
        /// The index of the one kept.
        first: u32,
        /// The index of the one that no facet uses.
        second: u32,
    },
    /// Two segments cross; a vertex on the first is appended there and the second is bent to it.
    Crossing {
        /// The segment that keeps its level.
        first: (usize, usize),
        /// The segment that is cut.
        second: (usize, usize),
        /// Where.
        at: Place,
        /// The level of the second there less the level of the first.
        step: Length,
    },
    /// A line or ring names a vertex that is not there; the name is skipped.
    Unknown {
        /// The line.
        line: usize,
        /// The index it names.
        vertex: u32,
    },
    /// A ring of a hole has fewer than three distinct places; it holds no ground back.
    NoRing {
        /// The hole.
        hole: usize,
    },
    /// A ring of a hole crosses itself; places it goes round an even number of times are ground.
    RingCrossesItself {
        /// The hole.
        hole: usize,
    },
    /// A vertex lies inside a hole; its level is not used.
    InHole {
        /// The vertex.
        vertex: u32,
        /// The hole.
        hole: usize,
    },
    /// A segment could not be kept as an edge, since what it crosses was cut too often.
    Dropped {
        /// The segment.
        segment: (usize, usize),
    },
}

/// Why there is no surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sparse {
    /// So many distinct places, fewer than three.
    TooFew(usize),
    /// All places are on one line within a millimetre, or there is no ground outside the holes.
    Straight,
    /// A coordinate or level of this vertex is not a number, or farther off than a million kilometres.
    NotFinite(u32),
}

impl fmt::Display for Sparse {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew(count) => {
                write!(f, "a surface needs three levels at distinct places, and has {count}")
            }
            Self::Straight => f.write_str("the levels lie on one line, which carries no surface"),
            Self::NotFinite(vertex) => {
                write!(f, "level {vertex} has a coordinate that is not a usable number")
            }
        }
    }
}

impl std::error::Error for Sparse {}
