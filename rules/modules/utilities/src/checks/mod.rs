//! One check, one file.

mod crossing_gap;
mod dig_clearance;
mod dig_conflict;
mod line_separation;
mod overhead_clearance;

pub use crossing_gap::CrossingGap;
pub use dig_clearance::DigClearance;
pub use dig_conflict::DigConflict;
pub use line_separation::LineSeparation;
pub use overhead_clearance::OverheadClearance;
