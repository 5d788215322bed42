//! The resolved site, and every measurement of it.
//!
//! One file per kind of measure. Each gives a [`Measured`]: a value, its spread as a sum of independent
//! error sources, the places to draw and the data that is lacking. No limit and no verdict lives here.

mod feature;
mod measured;
mod site;

pub mod area;
pub mod distance;
pub mod facing;
pub mod search;
pub mod width;

pub use feature::{Fact, Feature, FeatureId, Parameter};
pub use measured::{Mark, Measured, Need, Terms};
pub use site::Site;
