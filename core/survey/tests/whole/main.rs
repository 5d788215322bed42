//! A whole plan of measurements in, its layout out: how the plan is told and where it lies changes nothing, and
//! repeated surveys of one garden scatter as the layout says.

#![allow(clippy::panic, reason = "a plan that does not resolve ends its test")]

mod garden;

use garden::{Dice, Frame, NAMES, Telling, truth};

fn turned(places: &[(f64, f64)], turn: f64, (dx, dy): (f64, f64)) -> Vec<(f64, f64)> {
    let (sin, cos) = libm::sincos(turn);
    places.iter().map(|(x, y)| (cos * x - sin * y + dx, sin * x + cos * y + dy)).collect()
}

/// The same readings told in another way give the same distances and the same spreads.
#[track_caller]
fn check(one: &Telling<'_>, other: &Telling<'_>, what: &str) {
    let errors = || {
        let mut dice = Dice(4);
        move || dice.normal()
    };
    let (first, second) = (one.layout(&mut errors()), other.layout(&mut errors()));
    let mut compared = 0;
    for (i, to) in NAMES.iter().enumerate() {
        for (j, from) in NAMES.iter().enumerate().take(i) {
            let ((a, of_a), (b, of_b)) = (one.distance(&first, i, j), other.distance(&second, i, j));
            assert!((a - b).abs() <= 1e-6 * a, "{what}: {from} to {to}: {a} and {b}");
            assert!(
                (of_a - of_b).abs() <= 1e-6 * of_a.max(1e-6),
                "{what}: spread {from} to {to}: {of_a} and {of_b}"
            );
            compared += usize::from(of_a > 1e-3);
        }
    }
    assert!(compared > 45, "{what}: only {compared} of 55 distances have a spread");
}

#[test]
fn moving_changes_nothing() {
    let plain = Telling::plain(truth(), Frame::Coordinates);
    for by in [(0.25, -3.0), (1000.0, 70.0), (500_000.0, 4_200_000.0)] {
        check(&plain, &Telling::plain(turned(&truth(), 0.0, by), Frame::Coordinates), "moved");
    }
}

#[test]
fn turning_changes_nothing() {
    for frame in [Frame::Coordinates, Frame::Bearings] {
        let plain = Telling::plain(truth(), frame);
        for turn in [0.3, 1.6, 3.0, -2.2] {
            check(&plain, &Telling::plain(turned(&truth(), turn, (0.0, 0.0)), frame), "turned");
        }
    }
}

#[test]
fn another_first_corner_changes_nothing() {
    let plain = Telling::plain(truth(), Frame::Free);
    for first in 1..4 {
        check(&plain, &Telling { first, ..Telling::plain(truth(), Frame::Free) }, "another first corner");
    }
}

#[test]
fn the_order_of_the_file_and_the_names_change_nothing() {
    let names = ["k", "z", "b", "m", "house.n4", "house.a", "house.z", "house.c", "y2", "c", "a"];
    for frame in [Frame::Free, Frame::Coordinates, Frame::Bearings] {
        let plain = Telling::plain(truth(), frame);
        for shuffle in [1, 2, 3, 4, 5] {
            check(&plain, &Telling { shuffle, ..Telling::plain(truth(), frame) }, "another order");
            check(&plain, &Telling { names, shuffle, ..Telling::plain(truth(), frame) }, "other names");
        }
    }
}

#[test]
fn repeated_surveys_scatter_as_told() {
    const SURVEYS: u32 = 300;
    /// The 0.95 quantile of chi-squared with two degrees of freedom, -2 ln 0.05.
    const REGION: f64 = 5.991_464_547_107_98;
    let truth = truth();
    let telling = Telling::plain(truth.clone(), Frame::Free);
    let mut dice = Dice(11);
    let (mut held, mut sum, mut beyond) = ([0_u32; NAMES.len()], 0.0, 0);
    for _ in 0..SURVEYS {
        let layout = telling.layout(&mut || dice.normal());
        let [adjustment] = layout.adjustments.as_slice() else { panic!("one adjustment") };
        beyond = adjustment.beyond_needed;
        let Some(together) = &adjustment.together else { panic!("readings beyond need") };
        sum += together.off.fraction() * together.off.fraction() * f64::from(beyond);
        // The first corner is where it is, and the second can move along one side only.
        for (i, name) in NAMES.iter().enumerate().skip(2) {
            let point = &layout.named[*name];
            let (dx, dy) = (point.at.x.metres() - truth[i].0, point.at.y.metres() - truth[i].1);
            let (mut xx, mut xy, mut yy) = (0.0, 0.0, 0.0);
            for term in point.error.terms() {
                let (x, y) = (term.x.metres(), term.y.metres());
                xx += x * x;
                xy += x * y;
                yy += y * y;
            }
            let square = (dx * dx * yy - 2.0 * dx * dy * xy + dy * dy * xx) / (xx * yy - xy * xy);
            held[i] += u32::from(square <= REGION);
        }
    }
    // 15 distances, 9 of ties, 2 angles, 4 marks and their overall, 2 of offsets: 33. Unknown are 11 points less the
    // three of a datum and the three right angles, and the zero of the chain: 17.
    assert_eq!(beyond, 16);
    let surveys = f64::from(SURVEYS);
    // Four standard deviations of a share of 95 % among so many; of the mean of so many sums.
    let slack = 4.0 * libm::sqrt(0.95 * 0.05 / surveys);
    for (i, count) in held.iter().enumerate().skip(2) {
        let share = f64::from(*count) / surveys;
        assert!((share - 0.95).abs() <= slack, "{}: {share}", NAMES[i]);
    }
    let (mean, slack) = (sum / surveys, 4.0 * libm::sqrt(2.0 * f64::from(beyond) / surveys));
    assert!((mean - f64::from(beyond)).abs() <= slack, "mean {mean} is not {beyond} within {slack}");
}
