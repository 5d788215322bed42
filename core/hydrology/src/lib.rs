//! The flow of rain by published methods: how much runs off, how fast it arrives, and what carries or holds it.
//!
//! One file for each method, each a plain function of quantities: no site, no spread, no limit. `core/site` carries
//! the accuracy of a plan through them, and a sketch of `plugins/kit` calls them as they are.
//! A function gives nothing where its method has no answer: a slope of zero, a pipe without a width.
//!
//! Where each figure comes from stands beside it. *From memory* means that nobody read it again for this program.

pub mod channel;
pub mod concentration;
pub mod curve_number;
pub mod graphical;
pub mod rational;
pub mod storage;

/// Nothing for what is not finite or below zero: a method was used outside of its range.
fn sensible(value: f64) -> Option<f64> {
    (value.is_finite() && value >= 0.0).then_some(value)
}

/// The value if it is more than nothing.
fn positive(value: f64) -> Option<f64> {
    (value.is_finite() && value > 0.0).then_some(value)
}
