//! Open formats: GeoJSON (RFC 7946), GeoPackage, CSV points and LandXML in; GeoJSON and CSV out.
//!
//! A reader takes text or bytes, never a path, and gives a whole [`groundrule_plan::Plan`] in metres on a
//! local plane, or every fault it found. What a map cannot say and the reader therefore assumed stands in
//! the plan's remarks: the accuracy, which building is the dwelling, which lot lines front a street.

mod assemble;
mod assign;
mod drawn;
mod gather;
mod kernel;
mod options;
mod remarks;
mod survey_points;
#[cfg(test)]
mod testing;

pub mod geojson;
pub mod geopackage;
pub mod landxml;
pub mod plane;
pub mod points;
pub mod roles;
pub mod tables;

pub use options::{Layers, LinearUnit, LonLat, Options, Use};
