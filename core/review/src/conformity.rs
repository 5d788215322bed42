//! The probability that a true value conforms.

use groundrule_units::Ratio;

/// A probability of conformity, from zero to one.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Conformity(pub Ratio);

/// The probability asked for before a verdict is given; 0.95 unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Level(pub Ratio);

/// Probability that a value at or above the limit is true, given its distance above the limit and the
/// standard uncertainty of that distance. Source: JCGM 106:2012, 7.
pub fn conformity(above: f64, spread: f64) -> Conformity {
    let _ = (above, spread);
    todo!()
}

/// Probability that the true value lies between two limits.
pub fn conformity_between(value: f64, spread: f64, lower: f64, upper: f64) -> Conformity {
    let _ = (value, spread, lower, upper);
    todo!()
}
