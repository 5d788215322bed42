//! Rule module `utilities`: lines in the ground and overhead, and what is dug or built near them.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;
mod near;
mod stated;
mod zone;

pub use checks::{CrossingGap, DigClearance, DigConflict, LineSeparation, OverheadClearance};

groundrule_kit::module! { checks: [LineSeparation, CrossingGap, DigClearance, DigConflict, OverheadClearance] }
