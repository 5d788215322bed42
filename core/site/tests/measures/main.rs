//! What the site measures, checked against values worked out elsewhere.
#![allow(clippy::expect_used, clippy::panic, reason = "helpers of tests stop the test, as tests do")]

mod amounts;
mod building;
mod depths;
mod enclosures;
mod facing;
mod geometry;
mod gradients;
mod ground;
mod ground_water;
mod lacking;
mod lots;
mod near;
mod properties;
mod regions;
mod sections;
mod sheet;
mod sheet_feature;
mod spread;
mod ties;
mod yards;
