//! What host work costs, in units of fuel. One unit is about one instruction of a module.
//!
//! The charge is made before the work and depends only on its size, so that the same question costs the
//! same on every machine, whether its answer is worked out or remembered from another module.

/// Any call into the host.
pub(crate) const CALL: u64 = 50;
/// An item of a list handed over or back.
pub(crate) const ITEM: u64 = 10;
/// A byte of text handed over or back.
pub(crate) const BYTE: u64 = 1;
/// A new amount: its place in the table, its value.
pub(crate) const AMOUNT: u64 = 200;
/// An error term, mark or need that is carried over into a new amount.
pub(crate) const TERM: u64 = 10;
/// A fact looked up by name.
const LOOKUP: u64 = 50;
/// A vertex walked along.
const VERTEX: u64 = 20;
/// An edge of one feature held against an edge of another.
const EDGES: u64 = 10;
/// A vertex of an outline that is cut or joined with others.
const CLIP: u64 = 500;
/// Two edges of a ring held against each other, with their parts.
const RING: u64 = 500;
/// A feature looked for in, or held against, the index.
const SEARCH: u64 = 500;
/// A side of a feature whose outlook is searched along the lines of its lot.
pub(crate) const VERTEX_SEARCH: u64 = 1_000;
/// An error term of a vertex of a region.
pub(crate) const REGION_TERM: u64 = 100;
/// One try of a method of runoff.
pub(crate) const METHOD: u64 = 500;
/// One try of a depth found by halving: eighty sections, each with its roots.
pub(crate) const NORMAL_DEPTH: u64 = 40_000;
/// A pair that a search found.
pub(crate) const FOUND: u64 = 10;

/// A vertex held against the surface of the ground.
const GROUND: u64 = 2_000;
/// A vertex of a surface looked at, with the facets around it.
const SURFACE: u64 = 300;
/// A place of which water is followed, over a surface that may be drawn many times.
pub(crate) const COURSE: u64 = 20_000;
/// A surface drawn once more within its errors, for each vertex of it.
pub(crate) const DRAWN: u64 = 20_000;

/// Holding so many vertices against the surface of the ground.
pub(crate) const fn ground(vertices: u64) -> u64 {
    GROUND.saturating_mul(vertices)
}

/// Going over a whole surface of so many vertices.
pub(crate) const fn surface(vertices: u64) -> u64 {
    SURFACE.saturating_mul(vertices)
}

/// A fact looked up.
pub(crate) const fn lookup(name: &str) -> u64 {
    LOOKUP.saturating_add(name.len() as u64)
}

/// Walking along so many vertices.
pub(crate) const fn walk(vertices: u64) -> u64 {
    VERTEX.saturating_mul(vertices)
}

/// Holding every edge of one feature against every edge of another.
pub(crate) const fn against(a: u64, b: u64) -> u64 {
    EDGES.saturating_mul(a.saturating_mul(b)).saturating_add(walk(a.saturating_add(b)))
}

/// Cutting or joining outlines of so many vertices together, where any edge may cross any other.
pub(crate) const fn clip(vertices: u64) -> u64 {
    CLIP.saturating_mul(vertices).saturating_add(EDGES.saturating_mul(vertices.saturating_mul(vertices)))
}

/// Holding all edges of so many vertices against each other, twice, each cut where it runs past what it goes around.
pub(crate) const fn ring(vertices: u64) -> u64 {
    RING.saturating_mul(vertices.saturating_mul(vertices)).saturating_add(walk(vertices))
}

/// Searching the index for so many features.
pub(crate) const fn search(features: usize) -> u64 {
    SEARCH.saturating_mul(features as u64)
}
