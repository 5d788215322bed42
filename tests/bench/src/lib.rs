//! Bench inputs.

pub mod native;
pub mod quarter;
