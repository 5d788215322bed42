//! Rule module `pools`: the barrier around a pool.
//!
//! One file in `checks` for each check; the list below is the registration.

mod checks;

pub use checks::BarrierOpening;

groundrule_kit::module! { checks: [BarrierOpening] }
