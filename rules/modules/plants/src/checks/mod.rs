//! One check, one file.

mod branch_over;
mod crown_gap;
mod hedge_by_window;

pub use branch_over::BranchOver;
pub use crown_gap::CrownGap;
pub use hedge_by_window::HedgeByWindow;
