//! The resolved site, and every measurement of it.
//!
//! One file per kind of measure. Each gives a [`Measured`]: a value, its spread as a sum of independent
//! error sources, the places to draw and the data that is lacking. No limit and no verdict lives here.

mod build;
mod buildable;
mod facts;
mod feature;
mod lot;
mod lots;
mod measured;
mod shape;
mod sheet;
mod site;
mod spread;
mod terms;
mod through;
mod yard;

pub mod area;
pub mod distance;
pub mod enclosure;
pub mod facing;
pub mod ground;
pub mod region;
pub mod runoff;
pub mod search;
pub mod width;

pub use buildable::Buildable;
pub use facts::Facts;
pub use feature::{Fact, Feature, FeatureId, Parameter};
pub use measured::{AmountError, Mark, Measured, Need, Terms};
pub use site::Site;
