//! Levels to a triangulated surface, and its geometry.
//!
//! [`Tin::build`] joins levelled places to a triangulated irregular network that keeps given lines as edges
//! and has no ground inside given rings. Everything else is a measure of that surface: slopes, stretches
//! along a line, hollows, courses of water, contours, earthwork between two surfaces, steep faces.
//!
//! Inside are metres and flat arrays, shifted to the first vertex; outside are the newtypes of
//! `groundrule-units`. The same input gives the same bytes. Nothing here knows errors: what a figure hangs
//! on is given as weights ([`Tin::weights`], [`Tin::made_of`], [`Earthwork`]) so that a caller can spread them.
//!
//! ```
//! use groundrule_terrain::{Input, Place, Tin, Vertex};
//! use groundrule_units::Length;
//!
//! let spot = |x, y, z| Vertex {
//!     at: Place { x: Length::from_metres(x), y: Length::from_metres(y) },
//!     level: Length::from_metres(z),
//! };
//! let vertices = vec![spot(0.0, 0.0, 10.0), spot(20.0, 0.0, 9.0), spot(0.0, 20.0, 10.0)];
//! let (tin, troubles) = Tin::build(&Input { vertices, ..Input::default() })?;
//! assert!(troubles.is_empty());
//! let (least, _, _) = tin.steepness();
//! assert!((least.percent() - 5.0).abs() < 1e-12);
//! # Ok::<(), groundrule_terrain::Sparse>(())
//! ```

mod along;
mod build;
mod catchment;
mod clip;
mod contours;
mod course;
mod earthwork;
mod faces;
mod hollows;
mod input;
mod locate;
mod overflow;
mod plane;
mod prepare;
mod sink;
mod tin;
mod water;

pub use along::Stretch;
pub use contours::Contour;
pub use course::{Course, End};
pub use earthwork::{ByLevel, Earthwork, cut_and_fill};
pub use faces::Face;
pub use hollows::Hollow;
pub use input::{FacetId, Input, Place, Sparse, Trouble, Vertex, VertexId};
pub use sink::Sink;
pub use tin::{Gradient, Rim, Tin};
