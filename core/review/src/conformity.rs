//! The probability that a true value conforms.
//!
//! A measured value is taken as normally distributed about what was read, with its standard uncertainty
//! (JCGM 106:2012, 7). The functions here are numeric kernels: they take plain numbers in one unit,
//! whichever it is, and keep their accuracy (1e-12 absolute) far into the tails.

use groundrule_units::Ratio;

/// A probability of conformity, from zero to one.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Conformity(pub Ratio);

/// The probability asked for before a verdict is given; 0.95 unless said otherwise.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Level(pub Ratio);

impl Level {
    /// Ninety-five in a hundred, the default of ISO 14253-1 (common practice of measuring).
    pub const STANDARD: Self = Self(Ratio::from_fraction(0.95));
}

/// Probability that a value at or above the limit is true, given its distance above the limit and the
/// standard uncertainty of that distance. Source: JCGM 106:2012, 7.
///
/// Without uncertainty it is one at or above the limit and zero below; nothing that is not a number conforms.
pub fn conformity(above: f64, spread: f64) -> Conformity {
    probability(if spread > 0.0 {
        lower_tail(above / spread)
    } else if above >= 0.0 {
        1.0
    } else {
        0.0
    })
}

/// Probability that the true value lies between two limits.
///
/// Without uncertainty both limits themselves conform. Limits in the wrong order leave nothing to conform.
pub fn conformity_between(value: f64, spread: f64, lower: f64, upper: f64) -> Conformity {
    if spread > 0.0 {
        let (a, b) = ((lower - value) / spread, (upper - value) / spread);
        // Differences are taken in the thinner tail, where both terms are small and exact.
        let p = if a > 0.0 {
            lower_tail(-a) - lower_tail(-b)
        } else if b < 0.0 {
            lower_tail(b) - lower_tail(a)
        } else {
            f64::midpoint(libm::erf(b / std::f64::consts::SQRT_2), libm::erf(-a / std::f64::consts::SQRT_2))
        };
        probability(p)
    } else {
        probability(if lower <= value && value <= upper { 1.0 } else { 0.0 })
    }
}

/// The standard normal deviate that lies above a share `p` of all values: the factor of a one-sided guard band.
///
/// Minus and plus infinity at zero and one; NaN outside. Start value from Abramowitz and Stegun 26.2.23
/// (good to 4.5e-4), then Halley's iteration on the tail itself, which is exact to rounding after three steps.
pub fn quantile(p: Ratio) -> f64 {
    let p = p.fraction();
    if !(0.0..=1.0).contains(&p) {
        return f64::NAN;
    }
    let tail = p.min(1.0 - p);
    if tail <= 0.0 {
        return if p > 0.5 { f64::INFINITY } else { f64::NEG_INFINITY };
    }
    let t = libm::sqrt(-2.0 * libm::log(tail));
    let mut x = t
        - (2.515_517 + t * (0.802_853 + t * 0.010_328))
            / (1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308)));
    for _ in 0..4 {
        let density = libm::exp(-0.5 * x * x) / libm::sqrt(std::f64::consts::TAU);
        if density <= 0.0 {
            break;
        }
        let step = (lower_tail(-x) - tail) / density;
        x += step / (1.0 - 0.5 * x * step);
    }
    if p > 0.5 { x } else { -x }
}

/// The share of a standard normal distribution at or below `z`.
fn lower_tail(z: f64) -> f64 {
    0.5 * libm::erfc(-z / std::f64::consts::SQRT_2)
}

/// Rounding may leave a hair outside zero to one, and NaN must never look like a pass.
fn probability(p: f64) -> Conformity {
    Conformity(Ratio::from_fraction(if p.is_nan() { 0.0 } else { p.clamp(0.0, 1.0) }))
}
