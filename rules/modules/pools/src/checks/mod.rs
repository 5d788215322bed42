//! One check, one file.

mod barrier_opening;

pub use barrier_opening::BarrierOpening;
