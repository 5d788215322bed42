//! Kernels on bare coordinates: everything the measures share.
//!
//! These work on plain `f64` metres and on references to the points of the layout, so that each result
//! can say which points decide it. Which side of a line a point lies on is asked of exact predicates only.

pub(crate) mod convex;
pub(crate) mod curves;
pub(crate) mod depth;
pub(crate) mod gap;
pub(crate) mod inside;
pub(crate) mod piece;
pub(crate) mod rings;
pub(crate) mod segments;
pub(crate) mod sweep;
