//! Places as the plan writes them to positions, each with its error as a sum of independent sources.
//!
//! Two points that share a source err together, so a bench set 3 ft off a wall stays 3 ft off that wall
//! however badly the house was located. Everything measured later takes its spread from these sources.

pub mod adjust;
mod adjustment;
mod boxes;
pub mod closing;
mod curves;
mod ellipse;
mod error;
mod extent;
mod field;
mod ground;
mod layout;
mod order;
mod places;
mod resolve;
mod rings;
pub mod roles;
mod sources;

pub use adjustment::{AdjustedReading, Adjustment, Together};
pub use ellipse::ErrorEllipse;
pub use error::{ErrorTerm, ErrorTerms, Map, SourceId, Surveyed};
pub use ground::{Ground, GroundLevel, GroundLine, GroundLineKind, Surface};
pub use layout::{
    Dispute, Layout, LotPosition, Owner, Point, PointHeight, Position, Reading, ResolvedLot, ResolvedSide,
    Shape, SourceOwner,
};
pub use resolve::resolve;
