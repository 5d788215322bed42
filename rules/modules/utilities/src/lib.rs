//! Rule module `utilities`: lines in the ground and overhead, and what is dug or built near them.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;
mod least;
mod near;
mod size;
mod stated;
mod strip;
mod zone;

pub use checks::{
    CrossingGap, DigClearance, DigConflict, DigList, LineSeparation, OverheadClearance, StatedLengthAt,
    ToleranceZone,
};

groundrule_kit::module! { checks: [
    LineSeparation, CrossingGap, DigClearance, DigConflict, DigList, ToleranceZone, OverheadClearance,
    StatedLengthAt
] }
