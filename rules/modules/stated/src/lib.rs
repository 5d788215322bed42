//! Rule module `stated`: what the plan states of things.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;
mod names;

pub use checks::{AnyFlag, Share, StatedLength, Word};

groundrule_kit::module! { checks: [StatedLength, Share, Word, AnyFlag] }
