//! Conformity against published examples and independent computation.
//!
//! Figures stand in `data/conformity.json` with their source: JCGM 106:2012 (7.3 quantiles, 7.4 probability
//! of one item, 8.3 guard bands, 9.5 global risk), Eurachem/CITAC, ILAC-G8 and ISO 14253-1 factors, and
//! cases constructed with `scipy.stats.norm`.

#![allow(clippy::unwrap_used, reason = "a test stops at what it did not expect")]
#![allow(clippy::float_cmp, reason = "exact figures are expected exactly")]

use groundrule_review::{Level, conformity, conformity_between, quantile};
use groundrule_site::Measured;
use groundrule_survey::SourceId;
use groundrule_units::{Dimension, Quantity, Ratio};
use serde_json::Value;

fn data(section: &str) -> Value {
    let all: Value = serde_json::from_str(include_str!("data/conformity.json")).unwrap();
    all[section].clone()
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn close(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} is not {expected} within {tolerance:e}");
}

fn above(distance: f64, spread: f64) -> f64 {
    conformity(distance, spread).0.fraction()
}

fn between(value: f64, spread: f64, lower: f64, upper: f64) -> f64 {
    conformity_between(value, spread, lower, upper).0.fraction()
}

fn z(p: f64) -> f64 {
    quantile(Ratio::from_fraction(p))
}

/// Halves an interval in which `rises` goes from false to true.
fn bisect(mut low: f64, mut high: f64, rises: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if rises(middle) { high = middle } else { low = middle }
    }
    high
}

/// Simpson's rule, fine enough that its error is below every tolerance used here.
fn integral(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let steps = 4000_u32;
    let h = (to - from) / f64::from(steps);
    let inner: f64 =
        (1..steps).map(|i| if i % 2 == 1 { 4.0 } else { 2.0 } * f(from + h * f64::from(i))).sum();
    h / 3.0 * (f(from) + inner + f(to))
}

fn density(z: f64) -> f64 {
    libm::exp(-0.5 * z * z) / libm::sqrt(std::f64::consts::TAU)
}

#[test]
fn quantiles_of_jcgm_106_table_1() {
    for (p, expected) in data("one_sided_z").as_object().unwrap() {
        close(p, z(p.parse().unwrap()), number(expected), 1e-12);
    }
    for (p, expected) in data("two_sided_z").as_object().unwrap() {
        let p: f64 = p.parse().unwrap();
        close("two-sided", z(f64::midpoint(1.0, p)), number(expected), 1e-12);
    }
    assert_eq!(Level::STANDARD.0.fraction(), 0.95);
}

#[test]
fn quantiles_far_out() {
    // mpmath 1.4.1 with 30 digits.
    for (p, expected) in [
        (1e-10, -6.361_340_902_404_056),
        (1e-100, -21.273_453_560_965_322),
        (1e-300, -37.047_096_299_361_2),
        (0.5, 0.0),
        (1e-3, -3.090_232_306_167_813),
    ] {
        close("tail", z(p), expected, 1e-12 * expected.abs().max(1.0));
    }
    assert_eq!(z(0.0), f64::NEG_INFINITY);
    assert_eq!(z(1.0), f64::INFINITY);
    assert!(z(1.1).is_nan() && z(-0.1).is_nan() && z(f64::NAN).is_nan());
}

#[test]
fn one_item_of_jcgm_106() {
    let examples = data("jcgm106_examples");
    let (a, b, c) = (&examples[0], &examples[1], &examples[2]);
    close("J106-a", above(number(&a["TU"]) - number(&a["y"]), number(&a["u"])), number(&a["pc"]), 1e-12);
    close("J106-b", above(number(&b["y"]) - number(&b["TL"]), number(&b["u"])), number(&b["pc"]), 1e-12);
    // The uncertainty depends on the value, so the value is solved for: T is above v by 0.001 only.
    let v = bisect(100.0, 200.0, |v| above(v - 100.0, 0.02 * v) >= 0.999);
    close("J106-c", v, number(&c["v"]), 1e-9);
    close("J106-c closed form", 100.0 / (1.0 - 0.02 * z(0.999)), number(&c["v"]), 1e-9);
}

#[test]
fn two_sided_items() {
    for item in data("two_sided_items").as_array().unwrap() {
        let at = |key: &str| number(&item[key]);
        close("item", between(at("y"), at("u"), at("TL"), at("TU")), at("pc"), 1e-12);
    }
}

#[test]
fn tails_keep_their_figures() {
    // mpmath 1.4.1 with 30 digits; a tail must not be taken from one.
    close("20 sigma", above(-20.0, 1.0) / 2.753_624_118_606_233_7e-89, 1.0, 1e-12);
    close("30 sigma", above(-30.0, 1.0) / 4.906_713_927_148_187e-198, 1.0, 1e-12);
    // A thin range far out and a thin range of a very wide spread, from the density at its middle.
    close("far range", between(0.0, 1.0, 10.0, 10.001) / 7.656_252_284_062_174e-26, 1.0, 1e-10);
    close("far range, other side", between(0.0, 1.0, -10.001, -10.0), between(0.0, 1.0, 10.0, 10.001), 1e-40);
    close("huge spread", between(0.0, 1e9, -1.0, 1.0) / 7.978_845_608_028_654e-10, 1.0, 1e-12);
    assert_eq!(above(1e-300, 1e-300), above(1.0, 1.0), "only the share of the spread counts");
}

#[test]
fn without_spread_the_limit_conforms() {
    for (distance, expected) in [(0.0, 1.0), (1e-300, 1.0), (-1e-300, 0.0), (f64::NAN, 0.0)] {
        assert_eq!(above(distance, 0.0), expected, "{distance}");
    }
    for (value, expected) in [(8.0, 1.0), (12.0, 1.0), (7.9, 0.0), (12.1, 0.0), (f64::NAN, 0.0)] {
        assert_eq!(between(value, 0.0, 8.0, 12.0), expected, "{value}");
    }
    assert_eq!(above(f64::NAN, 1.0), 0.0);
    assert_eq!(between(5.0, 1.0, 6.0, 4.0), 0.0);
}

#[test]
fn global_risks_of_jcgm_106() {
    let global = data("jcgm106_global");
    let at = |key: &str| number(&global[key]);
    let (y0, u0, um, lower, upper) = (at("y0"), at("u0"), at("um"), at("TL"), at("TU"));
    let risk = |from: f64, to: f64, accepted: &dyn Fn(f64) -> f64| {
        integral(from, to, |y| density((y - y0) / u0) / u0 * accepted(y))
    };
    let (start, end) = (y0 - 12.0 * u0, y0 + 12.0 * u0);
    let consumer = |a: f64, b: f64| {
        let passed = |y: f64| between(y, um, a, b);
        risk(start, lower, &passed) + risk(upper, end, &passed)
    };
    close("process", between(y0, u0, lower, upper), at("process_conformance"), 1e-12);
    for row in global["rows"].as_array().unwrap() {
        let (a, b) = (number(&row["AL"]), number(&row["AU"]));
        close("consumer's risk", consumer(a, b), number(&row["RC"]), 1e-9);
        let producer = risk(lower, upper, &|y| 1.0 - between(y, um, a, b));
        close("producer's risk", producer, number(&row["RP"]), 1e-9);
    }
    let guard = bisect(0.0, 0.1, |w| consumer(lower + w, upper - w) <= 0.01);
    close("guard for 1 %", guard, at("guard_for_RC_1pct"), 1e-9);
}

#[test]
fn acceptance_limits_of_a_range() {
    for row in data("two_sided_acceptance_limits_unit_tolerance").as_array().unwrap() {
        let at = |key: &str| number(&row[key]);
        let spread = 1.0 / (4.0 * at("Cm"));
        let lower = bisect(0.0, 0.5, |a| between(a, spread, 0.0, 1.0) >= at("p"));
        close("lower", lower, at("AL"), 1e-9);
        close("symmetry", between(at("AU"), spread, 0.0, 1.0), at("p"), 1e-9);
        close("one-sided", z(at("p")) * spread, at("one_sided_AL"), 1e-9);
    }
}

#[test]
fn guard_factors() {
    let guards = data("guards");
    close("95 %", z(0.95), number(&guards["one_sided_95"]), 1e-12);
    close("97.5 %", z(0.975), number(&guards["one_sided_975"]), 1e-12);
    // Eurachem/CITAC prints 1.64 and 2.33, ISO 14253-1:2017 a one-sided 1.65 (from memory).
    for (p, printed) in [(0.95, 1.64), (0.99, 2.33), (0.95, 1.65)] {
        close("printed", z(p), printed, 0.006);
    }
    // ILAC-G8: a guard of U = 2 u leaves 2.275 % risk, one of 1.96 u 2.5 %.
    close("w = 2 u", 1.0 - above(2.0, 1.0), number(&guards["risk_w_2u"]), 1e-12);
    close("w = 1.96 u", 1.0 - above(z(0.975), 1.0), number(&guards["risk_w_U195"]), 1e-12);
}

#[test]
fn three_way_table_probabilities() {
    for row in data("three_way_min").as_array().unwrap() {
        let at = |key: &str| number(&row[key]);
        close("three-way", above(at("y") - at("T"), at("u")), at("p"), 1e-12);
    }
}

#[test]
fn plus_or_minus_is_a_95_percent_half_width() {
    let classes = data("classes");
    for (name, half_width) in [("aerial_ft", 1.0), ("tape_ft", 0.5 / 12.0), ("survey_ft", 0.02)] {
        close(name, half_width / z(0.975), number(&classes[name]["k1.96"]), 1e-12);
    }
}

#[test]
fn correlated_distances() {
    let distance = data("distance_correlated");
    let spread = number(&distance["u_d"]);
    close("at least 4.8", above(5.0 - 4.8, spread), number(&distance["p_ge_4p8_linear"]), 1e-12);

    // Two distances that share half their variance, as two yards measured from one corner do.
    let both = data("min_of_two");
    let (d, u) = (&both["d"], number(&both["u"][0]));
    let half = u * std::f64::consts::FRAC_1_SQRT_2;
    let measured = |value: f64, own: u32| {
        let terms = [(SourceId(0), half), (SourceId(own), half)].into_iter().collect();
        Measured::new(Quantity::new(Dimension::Length, value), terms)
    };
    let (a, b) = (measured(number(&d[0]), 1), measured(number(&d[1]), 2));
    close("covariance", a.covariance(&b), number(&both["rho"]) * u * u, 1e-15);
    for (one, expected) in [(&a, &both["p_each"][0]), (&b, &both["p_each"][1])] {
        close("each", above(one.value().si() - 5.0, one.spread().si()), number(expected), 1e-12);
    }
    // Given the shared error the two are independent.
    let shared = integral(-10.0, 10.0, |s| {
        let given = |m: &Measured| above(m.value().si() - 5.0 + half * s, half);
        density(s) * given(&a) * given(&b)
    });
    close("both", shared, number(&both["p_both"]), 1e-9);
    // Their difference loses what they share.
    close("difference", a.subtract(&b).unwrap().spread().si(), u, 1e-15);
}
