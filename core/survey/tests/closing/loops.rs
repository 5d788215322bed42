use groundrule_survey::closing::{CandidateKind, Loop, LoopClosing, Verdict, close_loop, segment};
use groundrule_units::{Area, SheetUnit, read_curve};

use crate::{call, words};

fn looped(calls: &[(&str, &str)], half_width: f64, minutes: f64) -> LoopClosing {
    close_loop(&Loop {
        calls: calls.iter().map(|(bearing, distance)| call(bearing, distance, half_width, minutes)).collect(),
        sheet: Some(SheetUnit::Feet),
    })
}

#[track_caller]
fn check(calls: &[(&str, &str)], half_width: f64, misclosure: &str, expected: &[&str]) -> LoopClosing {
    let closing = looped(calls, half_width, 0.0);
    let found = format!("{:.2} {}", closing.misclosure.feet(), closing.precision);
    assert_eq!(
        (found.as_str(), words(&closing.candidates)),
        (misclosure, expected.iter().map(|line| (*line).to_owned()).collect())
    );
    closing
}

fn changed<'a>(at: usize, call: (&'a str, &'a str)) -> Vec<(&'a str, &'a str)> {
    let mut calls = GOOD.to_vec();
    calls[at] = call;
    calls
}

/// The deed as it was meant.
const GOOD: [(&str, &str); 4] =
    [("N 4°30' E", "132.00"), ("S 85°30' E", "76.60"), ("S 4°30' W", "132.00"), ("N 85°30' W", "76.60")];

// The figures follow by hand: 2 x 76.60 sin 4.5° = 12.02; 132.00 x 76.60 = 10,111; that times sin 81° = 9,987.
#[test]
fn one_letter_of_a_deed_is_found_wherever_it_may_be() {
    for half_width in [0.0, 0.02, 0.1] {
        let deed = changed(3, ("S 85°30' W", "76.60"));
        let closing = check(
            &deed,
            half_width,
            "12.02 1:35",
            &[
                "`S 85°30' E` may be `N 85°30' E`, with one letter mistaken; that leaves 0.00 ft and an area of 9,987 sq ft",
                "`S 85°30' W` may be `N 85°30' W`, with one letter mistaken; that leaves 0.00 ft and an area of 10,111 sq ft",
                "`N 0°00'00\" E 12.02` may be left out; where is not known; that leaves 0.00 ft",
            ],
        );
        assert_eq!(closing.verdict, Verdict::DoesNotAddUp);
        let acres = |area: Area| format!("{:.2}", area.abs().square_feet() / 43_560.0);
        let areas: Vec<String> = closing.candidates.list.iter().filter_map(|c| c.area.map(acres)).collect();
        assert_eq!(areas, ["0.23", "0.23"]);
    }
}

#[test]
fn a_loop_that_closes_needs_no_excuse() {
    let closing = check(&GOOD, 0.02, "0.00 exact", &[]);
    assert_eq!(closing.verdict, Verdict::Closes);
    assert!((closing.area.square_feet() + 10_111.2).abs() < 1e-6, "clockwise: {:?}", closing.area);
}

#[test]
fn single_mistakes_of_a_loop_are_named() {
    use CandidateKind::{
        Added, CountedTwice, Dropped, MisreadDigit, QuadrantLetter, Reversed, SwappedDigits,
    };

    let names = |calls: &[(&str, &str)], kind: CandidateKind, instead: &str| {
        let closing = looped(calls, 0.02, 0.5);
        let found = closing.candidates.list.iter().any(|c| c.kind == kind && c.instead == instead);
        assert!(found, "{instead}: {:#?}", words(&closing.candidates));
    };
    names(&changed(1, ("N 85°30' W", "76.60")), Reversed, "S 85°30' E");
    names(&changed(1, ("S 58°30' E", "76.60")), SwappedDigits, "S 85°30' E");
    names(&changed(1, ("S 85°03' E", "76.60")), SwappedDigits, "S 85°30' E");
    names(&changed(1, ("S 85°30' E", "67.60")), SwappedDigits, "76.60");
    names(&changed(0, ("N 4°30' E", "122.00")), Dropped(10), "132.00");
    names(&changed(0, ("N 4°30' E", "32.00")), Dropped(100), "132.00");
    names(&changed(0, ("N 4°30' E", "142.00")), Added(10), "132.00");
    names(&changed(0, ("N 4°30' E", "137.00")), MisreadDigit, "132.00");
    names(&changed(0, ("N 4°30' W", "132.00")), QuadrantLetter, "N 4°30' E");
    let mut twice = GOOD.to_vec();
    twice.insert(1, GOOD[0]);
    names(&twice, CountedTwice, "");
    names(&[GOOD[0], GOOD[1], GOOD[3]], CandidateKind::LeftOut, "S 4°30'00\" W 132.00");
    names(&changed(1, ("94°03'", "76.60")), SwappedDigits, "94°30'");
}

#[test]
fn an_azimuth_has_no_letters() {
    let calls = changed(3, ("265°30'", "76.60"));
    let closing = looped(&calls, 0.02, 0.5);
    let at_call = |c: &&groundrule_survey::closing::Candidate| c.was == "265°30'";
    assert_eq!(
        closing.candidates.list.iter().filter(at_call).count(),
        0,
        "{:#?}",
        words(&closing.candidates)
    );
}

#[test]
fn the_misclosure_to_expect_comes_from_distances_and_bearings() {
    let bounds = looped(&[("N", "30.00"), ("E", "40.00")], 0.3, 0.0).bounds;
    assert!((bounds.expected.feet() - 0.3 * 2.0_f64.sqrt()).abs() < 1e-9);
    assert!((bounds.worst.feet() - 0.6).abs() < 1e-9);
    // A minute of arc over 100 ft is 0.0291 ft.
    let turn = looped(&[("N 0°00'00\" E", "100.00")], 0.0, 1.0).bounds.worst;
    assert!((turn.feet() - 0.029_51).abs() < 1e-4, "{}", turn.feet());
}

#[test]
fn a_curve_adds_what_is_beyond_its_chord() {
    // A square of 20 ft with half a circle of radius 10 on its east side, to the left and to the right.
    for (bearings, left, expected) in [
        (["E", "N", "W", "S"], true, 400.0 + 50.0 * std::f64::consts::PI),
        (["E", "N", "W", "S"], false, 400.0 - 50.0 * std::f64::consts::PI),
    ] {
        let curve = read_curve("R=10.00' Δ=180°00'00\"", Some(SheetUnit::Feet)).expect("a curve").value;
        let mut calls: Vec<_> = bearings.iter().map(|bearing| call(bearing, "20.00", 0.02, 0.0)).collect();
        calls[1].segment = segment(&curve, left);
        let closing = close_loop(&Loop { calls, sheet: Some(SheetUnit::Feet) });
        assert!((closing.area.square_feet() - expected).abs() < 1e-6, "{:?}", closing.area.square_feet());
    }
}
