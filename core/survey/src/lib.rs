//! Places as the plan writes them to positions, each with its error as a sum of independent sources.
//!
//! Two points that share a source err together, so a bench set 3 ft off a wall stays 3 ft off that wall
//! however badly the house was located. Everything measured later takes its spread from these sources.

mod error;
mod layout;

pub use error::{ErrorTerm, ErrorTerms, SourceId};
pub use layout::{Layout, Point, Position, ResolvedLot, ResolvedSide, Shape, SourceOwner};

use groundrule_plan::{Faults, Plan, Remark};

/// Resolves every place of a plan.
///
/// A reference to a point that is not there, or that leads back to itself, is a fault;
/// an outline that crosses itself is a remark, and the feature stays without a shape.
pub fn resolve(plan: &Plan) -> Result<(Layout, Vec<Remark>), Faults> {
    let _ = plan;
    todo!()
}
