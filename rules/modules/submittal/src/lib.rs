//! Rule module `submittal`: what a sheet shows and states, and whether that agrees with its drawing.
//!
//! One file in `checks` for each check; the list below is the registration.

mod agreement;
mod checks;
mod lacking;
mod parameters;

pub use checks::{
    AreaAgreement, ArrowAgreement, CoverageAgreement, Dimensioned, Item, ScaleAgreement, Stated, StatusTold,
};

groundrule_kit::module! {
    checks: [
        Item, StatusTold, Stated, Dimensioned, ScaleAgreement, ArrowAgreement, AreaAgreement, CoverageAgreement
    ]
}
