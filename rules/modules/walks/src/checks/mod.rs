//! One check, one file.

mod clear_width;
mod gate_opening;

pub use clear_width::ClearWidth;
pub use gate_opening::GateOpening;
