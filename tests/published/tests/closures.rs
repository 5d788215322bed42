//! Loops, chains and ties against printed examples and closed forms.
//!
//! `data/closures.json` holds calls as printed, what their source prints, and what an independent program (double
//! precision, another language) computes from them. Each case names its source.

#![allow(clippy::expect_used, reason = "a test ends where something it needs is not there")]

use groundrule_plan::OfEach;
use groundrule_survey::Position;
use groundrule_survey::closing::{
    Call, CandidateKind, Chain, ChainClosing, Figure, Loop, LoopClosing, Meeting, Step, TieFrom, Verdict,
    area_of, close_chain, close_loop, compass_rule, double_meridians, transit_rule, two_ties, vertices,
};
use groundrule_units::{Angle, Area, Length, SheetUnit, read_bearing, read_length};
use serde_json::Value;

const FEET: Option<SheetUnit> = Some(SheetUnit::Feet);

fn data() -> Value {
    serde_json::from_str(include_str!("../data/closures.json")).expect("data")
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("numbers").iter().map(number).collect()
}

fn position(value: &Value) -> Position {
    let xy = numbers(value);
    Position { x: Length::from_feet(xy[0]), y: Length::from_feet(xy[1]) }
}

#[track_caller]
fn same(found: f64, expected: f64, within: f64, what: &str) {
    assert!((found - expected).abs() <= within, "{what}: {found} is not {expected} within {within}");
}

#[track_caller]
fn all_same(found: impl IntoIterator<Item = Length>, expected: &Value, within: f64, what: &str) {
    let found: Vec<f64> = found.into_iter().map(Length::feet).collect();
    for (found, expected) in found.iter().zip(numbers(expected)) {
        same(*found, expected, within, what);
    }
    assert!(found.len() >= numbers(expected).len(), "{what}");
}

fn figure(text: &str, half_width: f64) -> Figure {
    let written = read_length(text, FEET).expect("a length");
    Figure { written, half_width: Length::from_feet(half_width) }
}

fn call(course: &Value) -> Call {
    let bearing = course[0].as_str().expect("a bearing");
    Call {
        bearing: read_bearing(bearing).expect("a bearing"),
        bearing_half_width: Angle::from_degrees(0.5 / 60.0),
        distance: figure(&course[1].to_string(), 0.02),
        segment: Area::ZERO,
    }
}

fn norths(steps: &[Step]) -> impl Iterator<Item = Length> {
    steps.iter().map(|step| step.north)
}

fn easts(steps: &[Step]) -> impl Iterator<Item = Length> {
    steps.iter().map(|step| step.east)
}

/// Against the independent program: 1e-9 and the last digits of far coordinates.
fn check_computed(case: &Value, closing: &LoopClosing) {
    let computed = &case["computed"];
    let steps = &closing.steps;
    let tight = 1e-9;
    all_same(norths(steps), &computed["lat"], tight, "latitudes");
    all_same(easts(steps), &computed["dep"], tight, "departures");
    same(closing.gap.north.feet(), number(&computed["sum_lat"]), tight, "sum of latitudes");
    same(closing.gap.east.feet(), number(&computed["sum_dep"]), tight, "sum of departures");
    same(closing.misclosure.feet(), number(&computed["misclosure"]), tight, "misclosure");
    same(closing.perimeter.feet(), number(&computed["perimeter"]), tight, "perimeter");
    let share = closing.precision.share().fraction();
    match computed["precision_1_in"].as_f64() {
        Some(one_in) => {
            same(1.0 / share / one_in, 1.0, tight, "precision");
            assert_eq!(closing.precision.to_string(), format!("1:{:.0}", one_in.round()));
            let toward = closing.gap.bearing().expect("a direction").azimuth().degrees();
            let apart = (toward - number(&computed["misclosure_azimuth_deg"])).abs();
            same(apart.min(360.0 - apart), 0.0, 1e-6, "direction of the misclosure");
        }
        None => assert_eq!((share, closing.precision.to_string().as_str()), (0.0, "exact")),
    }
    let area = number(&computed["area_signed_shoelace_ccw_positive"]);
    same(closing.area.square_feet(), area, 1e-6, "area");
    let (compass, transit) = (compass_rule(steps), transit_rule(steps));
    all_same(norths(&compass), &computed["compass_lat"], tight, "compass latitudes");
    all_same(easts(&compass), &computed["compass_dep"], tight, "compass departures");
    let start = position(&case["start"]);
    for (balanced, key) in [(&compass, "compass_xy"), (&transit, "transit_xy")] {
        let expected: Vec<Position> =
            computed[key].as_array().expect("points").iter().map(position).collect();
        let found = vertices(start, balanced);
        assert_eq!(found.len(), expected.len());
        for (found, expected) in found.iter().zip(&expected) {
            same(found.x.feet(), expected.x.feet(), 3e-9, key);
            same(found.y.feet(), expected.y.feet(), 3e-9, key);
        }
    }
    let transit_area = area_of(&vertices(Position::default(), &transit));
    same(transit_area.square_feet(), number(&computed["area_transit"]), 1e-6, "area by the transit rule");
    let meridians = double_meridians(&compass);
    all_same(meridians.distances, &computed["dmd"], 1e-8, "double meridian distances");
    same(meridians.double_area.square_feet(), number(&computed["double_area_dmd"]), 1e-6, "double area");
    same(
        meridians.double_area.square_feet(),
        2.0 * closing.area.square_feet(),
        1e-6,
        "both ways to the area",
    );
}

/// Against what the source prints, in its last place; a source that adds up rounded figures may be one off.
fn check_printed(case: &Value, closing: &LoopClosing) {
    let printed = &case["printed"];
    if printed.is_null() {
        return;
    }
    let places = printed["places"].as_u64().expect("places");
    let last = (0..places).fold(1.0, |step, _| step / 10.0) * 1.5;
    let compass = compass_rule(&closing.steps);
    let figures: [(&str, Vec<Length>); 8] = [
        ("lat", norths(&closing.steps).collect()),
        ("dep", easts(&closing.steps).collect()),
        ("adjusted_lat", norths(&compass).collect()),
        ("adjusted_dep", easts(&compass).collect()),
        ("dmd", double_meridians(&compass).distances),
        ("sum_lat", vec![closing.gap.north]),
        ("sum_dep", vec![closing.gap.east]),
        ("misclosure", vec![closing.misclosure]),
    ];
    let mut compared = 0;
    for (key, found) in figures {
        match &printed[key] {
            Value::Null => continue,
            Value::Array(_) => all_same(found, &printed[key], last, key),
            one => same(found[0].feet(), number(one), last, key),
        }
        compared += 1;
    }
    if let Some(area) = printed["area"].as_f64() {
        same(closing.area.abs().square_feet(), area, last, "printed area");
        let double = double_meridians(&compass).double_area.square_feet();
        same(double, number(&printed["double_area"]), last, "printed double area");
    }
    assert!(compared > 0, "something of {} was compared", case["id"]);
}

#[test]
fn loops_close_as_their_sources_print() {
    let data = data();
    let cases = data["loops"].as_array().expect("loops");
    assert_eq!(cases.len(), 7);
    for case in cases {
        let calls = case["courses"].as_array().expect("courses").iter().map(call).collect();
        let closing = close_loop(&Loop { calls, sheet: FEET });
        check_computed(case, &closing);
        check_printed(case, &closing);
    }
}

// T6: one call of a rectangle is 10 ft short.
#[test]
fn ten_feet_short_are_explained() {
    let data = data();
    let case = &data["loops"].as_array().expect("loops")[5];
    let calls = case["courses"].as_array().expect("courses").iter().map(call).collect();
    let closing = close_loop(&Loop { calls, sheet: FEET });
    assert_eq!((closing.verdict, closing.precision.to_string().as_str()), (Verdict::DoesNotAddUp, "1:38"));
    let found: Vec<_> = closing.candidates.list.iter().map(|c| (c.kind, c.instead.as_str())).collect();
    assert!(found.contains(&(CandidateKind::Dropped(10), "120.0")), "{found:?}");
    assert!(found.contains(&(CandidateKind::Added(10), "110.0")), "{found:?}");
}

// T8: the area of a ring at E 6,012,345 N 2,134,567 ft, summed in exact decimals.
#[test]
fn far_coordinates_keep_their_area() {
    let data = data();
    let ring: Vec<Position> =
        data["ring"]["corners"].as_array().expect("corners").iter().map(position).collect();
    let exact = number(&data["ring"]["exact_area"]);
    same(area_of(&ring).square_feet(), exact, 5e-7, "area");
}

// Closed forms: the sides of the triangle give the angle at the point.
#[test]
fn two_ties_cross_as_computed() {
    let data = data();
    for case in data["ties"]["cases"].as_array().expect("cases") {
        let distances = numbers(&case["distances"]);
        let tie = |x: f64, distance: f64| TieFrom {
            from: Position { x: Length::from_metres(x), y: Length::ZERO },
            distance: Length::from_metres(distance),
            half_width: Length::from_metres(0.04),
        };
        let pair = two_ties(&tie(0.0, distances[0]), &tie(number(&case["base"]), distances[1]), Length::ZERO);
        let Meeting::At(points) = pair.meeting else { panic!("{case} {pair:?}") };
        for (point, expected) in points.iter().zip([&case["point"], &case["mirror"]]) {
            let expected = numbers(expected);
            same(point.x.metres(), expected[0], 1e-9, "x");
            same(point.y.metres(), expected[1], 1e-9, "y");
        }
        let crossing = pair.crossing.expect("they cross").degrees();
        same(crossing, number(&case["crossing_deg"]), 1e-8, "crossing");
        assert_eq!(pair.weak, !(30.0..=150.0).contains(&crossing), "{case}");
    }
}

fn chain(pieces: &[&str], overall: &str, half_width: f64, of_each: OfEach) -> ChainClosing {
    close_chain(&Chain {
        pieces: pieces.iter().map(|text| figure(text, half_width)).collect(),
        overall: figure(overall, half_width),
        running: false,
        of_each,
        sheet: FEET,
    })
}

// Closed form N2: 12.50 + 19.25 + 26.45 + 21.80 against 80.05. At one standard deviation of 0.02 each the gap of
// 0.05 has one of 0.02 √4; here with an exact overall, so that the half width is 1.96 times that.
#[test]
fn a_chain_against_an_exact_overall() {
    let half_width = 0.02 * 1.959_964;
    let mut pieces = Chain {
        pieces: ["12.50", "19.25", "26.45", "21.80"].iter().map(|text| figure(text, half_width)).collect(),
        overall: figure("80.05", 0.0),
        running: false,
        of_each: OfEach::Length,
        sheet: FEET,
    };
    let closing = close_chain(&pieces);
    same(closing.gap.feet(), -0.05, 1e-9, "gap");
    same(closing.bounds.expected.feet(), 2.0 * half_width, 1e-9, "expected");
    assert_eq!(closing.verdict, Verdict::Closes);
    // Read as running figures, each gap between neighbours is their difference.
    pieces.running = true;
    pieces.pieces =
        ["12.50", "31.75", "58.20", "80.00"].iter().map(|text| figure(text, half_width)).collect();
    let running = close_chain(&pieces);
    for (piece, expected) in running.pieces.iter().zip([12.50, 19.25, 26.45, 21.80]) {
        same(piece.feet(), expected, 1e-9, "piece");
    }
    same(running.bounds.expected.feet(), half_width, 1e-9, "only the last figure counts");
}

// Common practice: of n pieces and an overall, each ± e, a gap of e √(n + 1) is to be expected and one over
// e (n + 1) is a blunder.
#[test]
fn chains_are_judged_by_the_rule_of_the_trade() {
    for n in 1..10_u32 {
        let pieces = vec!["10.00"; n as usize];
        let e = 0.05;
        let count = f64::from(n + 1);
        for (share, verdict) in [(0.99, Verdict::Closes), (1.01, Verdict::Suspicious)] {
            let overall = format!("{:.6}", f64::from(n) * 10.0 + share * e * count.sqrt());
            assert_eq!(chain(&pieces, &overall, e, OfEach::Length).verdict, verdict, "{n} {share}");
        }
        for (share, verdict) in [(0.99, Verdict::Suspicious), (1.01, Verdict::DoesNotAddUp)] {
            let overall = format!("{:.6}", f64::from(n) * 10.0 + share * e * count);
            assert_eq!(chain(&pieces, &overall, e, OfEach::Length).verdict, verdict, "{n} {share}");
        }
    }
}

// Common practice: the marks that single blunders leave on a chain.
#[test]
fn the_signatures_of_blunders_are_recognised() {
    let check = |pieces: &[&str], overall: &str, kind: CandidateKind, was: &str, instead: &str| {
        let closing = chain(pieces, overall, 0.05, OfEach::Length);
        let found = closing
            .candidates
            .list
            .iter()
            .any(|c| (c.kind, c.was.as_str(), c.instead.as_str()) == (kind, was, instead));
        assert!(found, "{pieces:?} {overall}: {:#?}", closing.candidates);
    };
    check(&["12.0", "46.0", "9.5"], "85.5", CandidateKind::SwappedDigits, "46.0", "64.0");
    check(&["12.0", "36.0", "9.5"], "67.5", CandidateKind::Dropped(10), "36.0", "46.0");
    check(&["12.0", "9.5", "46.0", "9.5"], "67.5", CandidateKind::CountedTwice, "9.5", "");
    check(&["12.0", "46.0"], "67.5", CandidateKind::LeftOut, "", "9.5");
    check(&["12.8", "46.0", "9.5"], "68'-2\"", CandidateKind::InchesAsDecimals, "12.8", "12'-8\"");
}
