//! One check, one file.

mod crossing_gap;
mod dig_clearance;
mod dig_conflict;
mod dig_list;
mod line_separation;
mod overhead_clearance;
mod stated_length_at;
mod tolerance_zone;

pub use crossing_gap::CrossingGap;
pub use dig_clearance::DigClearance;
pub use dig_conflict::DigConflict;
pub use dig_list::DigList;
pub use line_separation::LineSeparation;
pub use overhead_clearance::OverheadClearance;
pub use stated_length_at::StatedLengthAt;
pub use tolerance_zone::ToleranceZone;
