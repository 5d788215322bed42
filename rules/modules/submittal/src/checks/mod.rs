//! One check, one file.

mod area_agreement;
mod arrow_agreement;
mod coverage_agreement;
mod dimensioned;
mod item;
mod scale_agreement;
mod stated;
mod status_told;

pub use area_agreement::AreaAgreement;
pub use arrow_agreement::ArrowAgreement;
pub use coverage_agreement::CoverageAgreement;
pub use dimensioned::Dimensioned;
pub use item::Item;
pub use scale_agreement::ScaleAgreement;
pub use stated::Stated;
pub use status_told::StatusTold;
