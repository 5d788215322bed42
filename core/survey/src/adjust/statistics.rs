//! Quantiles and critical values that tests of an adjustment use.
//!
//! Everything is found from the incomplete gamma and beta functions; good to 1e-12 of the value for the levels
//! and degrees of freedom that adjustments meet.

use std::f64::consts::SQRT_2;

/// Chance that a standard normal variable stays under `z`.
pub fn normal_chance(z: f64) -> f64 {
    0.5 * libm::erfc(-z / SQRT_2)
}

/// The value a standard normal variable stays under with this chance; none outside 0 to 1.
pub fn normal_quantile(chance: f64) -> Option<f64> {
    if chance > 0.5 {
        // The far tail is told apart better by what is left over.
        return upper_normal(1.0 - chance);
    }
    upper_normal(chance).map(|z| -z)
}

/// The value a standard normal variable goes over with this chance of at most one half.
fn upper_normal(tail: f64) -> Option<f64> {
    (tail > 0.0 && tail < 1.0).then(|| falling(|z| 0.5 * libm::erfc(z / SQRT_2), tail, 0.0, 40.0))
}

/// Where a function that falls from `low` to `high` takes a value, by halving.
fn falling(function: impl Fn(f64) -> f64, value: f64, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if function(middle) > value {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Chance that a chi-square variable goes over `x`.
pub fn chi_square_tail(x: f64, degrees: u32) -> f64 {
    if degrees == 0 || x <= 0.0 { 1.0 } else { gamma_tail(f64::from(degrees) / 2.0, x / 2.0) }
}

/// The value a chi-square variable stays under with this chance; none outside 0 to 1 or without degrees of freedom.
pub fn chi_square_quantile(chance: f64, degrees: u32) -> Option<f64> {
    if degrees == 0 || !(chance > 0.0 && chance < 1.0) {
        return None;
    }
    let half = f64::from(degrees) / 2.0;
    let mut high = f64::from(degrees) + 10.0;
    while gamma_tail(half, high / 2.0) > 1.0 - chance && high < 1e12 {
        high *= 2.0;
    }
    Some(falling(|x| 1.0 - gamma_under(half, x / 2.0), 1.0 - chance, 0.0, high))
}

/// Chance that the absolute value of a Student variable goes over `t`.
fn student_tails(t: f64, degrees: f64) -> f64 {
    beta_under(degrees / 2.0, 0.5, degrees / (degrees + t * t))
}

/// The value a Student variable stays under with this chance of at least one half; none for others, or without
/// degrees of freedom.
pub fn student_quantile(chance: f64, degrees: u32) -> Option<f64> {
    if degrees == 0 || !(0.5..1.0).contains(&chance) {
        return None;
    }
    let (tails, degrees) = (2.0 * (1.0 - chance), f64::from(degrees));
    let mut high = 10.0;
    while student_tails(high, degrees) > tails && high < 1e15 {
        high *= 2.0;
    }
    Some(falling(|t| student_tails(t, degrees), tails, 0.0, high))
}

/// What a standardised residual stays under with a chance of `1 - alpha` if the observation is sound (Baarda).
pub fn baarda_critical(alpha: f64) -> Option<f64> {
    upper_normal(alpha / 2.0)
}

/// The same where the scale comes from the residuals themselves (Pope's tau); none under two degrees of freedom.
pub fn pope_critical(alpha: f64, degrees: u32) -> Option<f64> {
    let t = student_quantile(1.0 - alpha / 2.0, degrees.checked_sub(1)?)?;
    let degrees = f64::from(degrees);
    Some(t * libm::sqrt(degrees) / libm::sqrt(degrees - 1.0 + t * t))
}

/// How far a blunder moves the mean of its standardised residual if a test at `alpha` finds it with a chance of
/// `power`; zero outside 0 to 1.
pub fn detectable_bias(alpha: f64, power: f64) -> f64 {
    baarda_critical(alpha).zip(normal_quantile(power)).map_or(0.0, |(critical, reach)| critical + reach)
}

/// What to multiply the axes of a standard ellipse with so that it holds the point with this chance, the
/// uncertainties being known; none outside 0 to 1.
pub fn ellipse_factor(chance: f64) -> Option<f64> {
    (chance > 0.0 && chance < 1.0).then(|| libm::sqrt(-2.0 * libm::log1p(-chance)))
}

/// The same where the scale comes from the residuals: the root of twice F with 2 and these degrees of freedom.
pub fn ellipse_factor_estimated(chance: f64, degrees: u32) -> Option<f64> {
    if degrees == 0 || !(chance > 0.0 && chance < 1.0) {
        return None;
    }
    // With two degrees of freedom above, F has a closed form.
    let below = f64::from(degrees);
    let f = below / 2.0 * libm::expm1(-2.0 / below * libm::log1p(-chance));
    Some(libm::sqrt(2.0 * f))
}

/// The regularised lower incomplete gamma function.
fn gamma_under(a: f64, x: f64) -> f64 {
    if x <= 0.0 {
        0.0
    } else if x < a + 1.0 {
        gamma_series(a, x)
    } else {
        1.0 - gamma_fraction(a, x)
    }
}

/// The regularised upper incomplete gamma function.
fn gamma_tail(a: f64, x: f64) -> f64 {
    if x <= 0.0 {
        1.0
    } else if x < a + 1.0 {
        1.0 - gamma_series(a, x)
    } else {
        gamma_fraction(a, x)
    }
}

fn gamma_series(a: f64, x: f64) -> f64 {
    let (mut term, mut sum, mut n) = (1.0 / a, 1.0 / a, a);
    for _ in 0..100_000 {
        n += 1.0;
        term *= x / n;
        sum += term;
        if term < sum * 1e-17 {
            break;
        }
    }
    sum * libm::exp(a * libm::log(x) - x - libm::lgamma(a))
}

/// By the continued fraction, from the front (Lentz).
fn gamma_fraction(a: f64, x: f64) -> f64 {
    let mut b = x + 1.0 - a;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / b;
    let mut sum = d;
    for i in 1..100_000 {
        let i = f64::from(i);
        let an = -i * (i - a);
        b += 2.0;
        d = 1.0 / large(an * d + b);
        c = large(b + an / c);
        sum *= d * c;
        if (d * c - 1.0).abs() < 1e-16 {
            break;
        }
    }
    sum * libm::exp(a * libm::log(x) - x - libm::lgamma(a))
}

const TINY: f64 = 1e-300;

fn large(x: f64) -> f64 {
    if x.abs() < TINY { TINY } else { x }
}

/// The regularised incomplete beta function.
fn beta_under(a: f64, b: f64, x: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    let front = libm::exp(
        libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b) + a * libm::log(x) + b * libm::log1p(-x),
    );
    if x < (a + 1.0) / (a + b + 2.0) {
        front * beta_fraction(a, b, x) / a
    } else {
        1.0 - front * beta_fraction(b, a, 1.0 - x) / b
    }
}

fn beta_fraction(a: f64, b: f64, x: f64) -> f64 {
    let (mut c, mut d) = (1.0, 1.0 / large(1.0 - (a + b) * x / (a + 1.0)));
    let mut sum = d;
    for m in 1..100_000 {
        let m = f64::from(m);
        let even = m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m));
        d = 1.0 / large(1.0 + even * d);
        c = large(1.0 + even / c);
        sum *= d * c;
        let odd = -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0));
        d = 1.0 / large(1.0 + odd * d);
        c = large(1.0 + odd / c);
        sum *= d * c;
        if (d * c - 1.0).abs() < 1e-16 {
            break;
        }
    }
    sum
}

/// Chance that a point lies within its standard ellipse times `factor`, the uncertainties being known.
pub fn ellipse_chance(factor: f64) -> f64 {
    -libm::expm1(-factor * factor / 2.0)
}
