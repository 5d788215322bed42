//! Rule module `sight`: what stands where drivers and walkers must see each other.
//!
//! One file in `checks` for each check; the list below is the registration.

mod areas;
mod checks;
mod corners;

pub use checks::{CornerArea, DriveArea, DriveToCorner};

groundrule_kit::module! { checks: [CornerArea, DriveArea, DriveToCorner] }
