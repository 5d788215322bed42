//! Rule module `plants`: crowns, branches and hedges.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;

pub use checks::{BranchOver, CrownGap, HedgeByWindow};

groundrule_kit::module! { checks: [CrownGap, BranchOver, HedgeByWindow] }
