//! LandXML 1.0 to 1.2: coordinate points and parcels to a plan.
//!
//! Points are written northing first. Parcels keep their curves. The unit is the file's own, and the two
//! feet are told apart.

mod parcels;
mod read;

#[cfg(test)]
mod tests;

pub use crate::survey_points::SurveyOptions;
pub use read::read;
