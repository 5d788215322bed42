use groundrule_units::{CircularCurve, CurvePart, SheetUnit, read_curve};

use crate::{asks, refuses};

fn curve(text: &str) -> CircularCurve {
    read_curve(text, None).unwrap_or_else(|unread| panic!("{text}: {unread}")).value
}

/// A quarter circle of 25 ft: arc 25 pi / 2, chord 25 times the root of two.
///
/// Arc and chord rounded to 0.01 ft leave the radius open by nearly 0.02 ft, and delta by as many degrees as 0.06.
#[track_caller]
fn is_quarter(text: &str) {
    let curve = curve(text);
    let near = |found: f64, expected: f64, tolerance: f64, what: &str| {
        assert!((found - expected).abs() < tolerance, "{text}: {what} {found}, expected {expected}");
    };
    near(curve.radius.feet(), 25.0, 0.02, "radius");
    near(curve.arc.feet(), 25.0 * std::f64::consts::FRAC_PI_2, 0.01, "arc");
    near(curve.delta.degrees(), 90.0, 0.06, "delta");
    near(curve.chord.feet(), 25.0 * std::f64::consts::SQRT_2, 0.01, "chord");
    assert!(curve.checks.iter().all(|check| check.agrees), "{text}: {:?}", curve.checks);
}

#[test]
fn any_two_define_it() {
    is_quarter("R=25.00' L=39.27' Δ=90°00'00\" CH=35.36'");
    is_quarter("R=25.00' L=39.27'");
    is_quarter("R=25.00', Δ=90°00'00\"");
    is_quarter("L=39.27'; delta = 90-00-00");
    is_quarter("Δ=90°00'00\" CH=35.36'");
    is_quarter("L=39.27' CH=35.36'");
    is_quarter("R = 25.00 ft  L = 39.27 ft  ∆ = 90°  C = 35.36 ft");
}

#[test]
fn the_others_are_checked_within_their_rounding() {
    let good = curve("R=25.00' L=39.27' Δ=90°00'00\" CH=35.36'");
    assert_eq!(
        good.checks.iter().map(|check| check.part).collect::<Vec<_>>(),
        [CurvePart::Arc, CurvePart::Chord]
    );
    // A digit turned round: 35.63 for 35.36.
    let bad = curve("R=25.00' L=39.27' Δ=90°00'00\" CH=35.63'");
    let wrong: Vec<_> = bad.checks.iter().filter(|check| !check.agrees).map(|check| check.part).collect();
    assert_eq!(wrong, [CurvePart::Chord]);
    let rough = curve("R=25' L=39' Δ=90°");
    assert!(rough.checks.iter().all(|check| check.agrees));
}

#[test]
fn radius_and_chord_have_two_arcs() {
    let read = |text: &str| read_curve(text, None);
    asks("R=50.00' CH=50.00'", read, &["R=50.00' Δ=60.000000°", "R=50.00' Δ=300.000000°"]);
    assert!((curve("R=50' CH=100'").delta.degrees() - 180.0).abs() < 1e-9);
    // A cul-de-sac turns more than half way round.
    let bulb = curve("R=50.00' L=209.44' CH=86.60'");
    assert!((bulb.delta.degrees() - 240.0).abs() < 0.01 && bulb.checks[0].agrees);
}

#[test]
fn questions_and_refusals() {
    let read = |text: &str| read_curve(text, None);
    asks("R=25.00' Δ=90.30", read, &["R=25.00' Δ=90°30'", "R=25.00' Δ=90.30°"]);
    assert!(read_curve("R=25.00 L=39.27", Some(SheetUnit::Feet)).is_ok());
    refuses("R=25.00'", read, "one figure");
    refuses("25.00'", read, "one figure");
    refuses("R=25.00' T=25.00'", read, "`T` is not R, L, Δ or CH");
    refuses("R=25.00' R=26.00'", read, "twice");
    refuses("R=10' CH=35'", read, "no curve");
    refuses("L=10' CH=12'", read, "no curve");
    refuses("R=1' L=7'", read, "no curve");
    refuses("R=0' L=7'", read, "more than zero");
    refuses("R=x L=7'", read, "in `x`");
}
