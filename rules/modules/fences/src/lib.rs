//! Rule module `fences`: heights of fences, walls and hedges by yard, station and side, and water through them.
//!
//! One file in `checks` for each check; the list below is the registration.

mod along;
mod checks;
mod heights;

pub use checks::{FlowGap, Height, HeightInYard, HeightOnWall};

groundrule_kit::module! { checks: [Height, HeightInYard, HeightOnWall, FlowGap] }
