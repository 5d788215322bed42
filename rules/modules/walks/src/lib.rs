//! Rule module `walks`: clear widths of walks and gates.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;

pub use checks::{ClearWidth, GateOpening};

groundrule_kit::module! { checks: [ClearWidth, GateOpening] }
