//! Rule module `setbacks`: yards, separations, overlaps and shares of a lot.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;

pub use checks::{CoverShare, LotLineDistance, Overlap, Separation};

groundrule_kit::module! { checks: [LotLineDistance, Separation, Overlap, CoverShare] }
