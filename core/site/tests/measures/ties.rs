//! Spreads where more than one point could be the nearest.

use groundrule_site::Measured;

use crate::sheet::{Sheet, close};

/// A strip whose lower edge has vertices at these heights above an exact line, each with an error of 0.1.
fn strip(heights: &[f64]) -> Measured {
    let mut sheet = Sheet::new();
    sheet.line("line", &[[-50.0, 0.0], [50.0, 0.0]], 0.0, 0.0);
    let along = |i: usize| 10.0 * f64::from(u32::try_from(i).expect("small"));
    let mut ring: Vec<[f64; 2]> = heights.iter().enumerate().map(|(i, y)| [along(i), *y]).collect();
    ring.extend([[along(heights.len() - 1), 20.0], [0.0, 20.0]]);
    sheet.outline("strip", &ring, 0.1);
    let built = sheet.build();
    let once = built.distance("strip", "line");
    assert_eq!(once, built.distance("strip", "line"), "the same question has one answer");
    once
}

fn check(heights: &[f64], expected: f64, tolerance: f64) {
    let measured = strip(heights);
    close(&format!("{heights:?}"), measured.spread().si(), expected, tolerance);
}

#[test]
fn one_that_is_clearly_nearest_decides_alone() {
    check(&[5.0, 9.0], 0.1, 1e-12);
    // Far enough behind is three standard uncertainties of the difference, 0.42 here.
    check(&[5.0, 5.43], 0.1, 1e-12);
}

#[test]
fn two_that_tie_pull_the_least_down_by_as_much_as_they_steady_it() {
    // The square of the lesser of two standard normal variables has mean one.
    check(&[5.0, 5.0], 0.1, 1e-12);
    let terms = strip(&[5.0, 5.0]);
    let of_two = terms.terms().iter().filter(|(_, term)| term.abs() > 0.05).count();
    assert_eq!(of_two, 2, "both corners carry the error: {:?}", terms.terms());
}

#[test]
fn three_that_tie_are_sampled() {
    // The mean square of the least of three standard normal variables is 1 + sqrt(3) / (2 pi) (closed form for
    // normal order statistics): its root is 1.129453. The sample is good to about two percent.
    check(&[5.0, 5.0, 5.0], 0.112_945_3, 0.003);
}

#[test]
fn nearness_changes_the_spread_without_a_jump() {
    let mut last = strip(&[5.0, 5.0]).spread().si();
    for step in 1..60 {
        let now = strip(&[5.0, 5.0 + 0.01 * f64::from(step)]).spread().si();
        assert!((now - last).abs() < 0.004, "step {step}: from {last} to {now}");
        last = now;
    }
    close("clear", last, 0.1, 1e-12);
}

#[test]
fn a_shared_error_leaves_no_doubt_which_is_nearest() {
    use crate::sheet::shared;
    use groundrule_survey::Shape;

    let mut sheet = Sheet::new();
    sheet.line("line", &[[-50.0, 0.0], [50.0, 0.0]], 0.0, 0.0);
    let point = |x, y| shared(x, y, &[(0, 0.3, 0.0), (1, 0.0, 0.3)]);
    let ring = vec![point(0.0, 5.0), point(10.0, 5.0), point(10.0, 9.0), point(0.0, 9.0)];
    sheet.add("shed", Shape::Outline { ring, holes: Vec::new() });
    let built = sheet.build();
    close("shed", built.distance("shed", "line").spread().si(), 0.3, 1e-12);
}
