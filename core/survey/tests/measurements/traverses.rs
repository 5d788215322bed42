//! Bearings and distances.

use crate::support::Of::{X, Y};
use crate::support::{HEAD, check_spread, check_whole};

/// A plan with its north so, and a traverse from `a`.
fn traverse(north: &str, calls: &str) -> String {
    let head = HEAD.replace("north = \"up\"", &format!("north = \'{north}\'"));
    format!("{head}[[traverse]]\nfrom = 'a'\ncalls = [\n{calls}\n]\n")
}

#[test]
fn calls() {
    let root = 10.0 / 2.0_f64.sqrt();
    for (north, call, x, y) in [
        ("up", "bearing = 'N 45 E', distance = 10", root, root),
        ("up", "bearing = 'S 45 E', distance = 10", root, -root),
        ("up", "bearing = 'S 45 W', distance = 10", -root, -root),
        ("up", "bearing = 'N 45 W', distance = 10", -root, root),
        ("up", "bearing = 'N 45°00\\u203200\\u2033 W', distance = 10", -root, root),
        ("up", "bearing = 'due north', distance = 10", 0.0, 10.0),
        ("up", "bearing = 90, distance = '10 m'", 10.0, 0.0),
        ("up", "bearing = '225', distance = 10", -root, -root),
        ("90 deg clockwise of up", "bearing = 'N 45 E', distance = 10", root, -root),
        ("90 deg clockwise of up", "bearing = 0, distance = 10", 10.0, 0.0),
        ("45 deg anticlockwise of up", "bearing = 'N 45 E', distance = 10", 0.0, 10.0),
        // An arc by its chord's bearing: a quarter circle has a chord of root two times the radius.
        ("up", "curve = 'R=10 m D=90', turn = 'right', chord_bearing = 'N 45 E'", 10.0, 10.0),
        (
            "up",
            "curve = 'R=10 m L=15.70796326794897 m', turn = 'left', chord_bearing = 'N 45 W'",
            -10.0,
            10.0,
        ),
        (
            "90 deg clockwise of up",
            "curve = 'R=10 m D=90', turn = 'right', chord_bearing = 'N 45 E'",
            10.0,
            -10.0,
        ),
    ] {
        let call = call.replace("\\u2032", "\u{2032}").replace("\\u2033", "\u{2033}");
        check_whole(&traverse(north, &format!("{{ to = 'p', {call} }}")), &[("p", x, y)], &[]);
    }
}

#[test]
fn curves_tangent_to_what_comes_before() {
    for (turn, then, q, r) in [
        ("right", "bearing = 'due east', distance = 5", (10.0, 20.0), (15.0, 20.0)),
        ("left", "bearing = 'due west', distance = 5", (-10.0, 20.0), (-15.0, 20.0)),
        // A second curve out of the first: an S, and a half circle.
        ("right", "curve = 'R=5 m D=90', turn = 'left'", (10.0, 20.0), (15.0, 25.0)),
        ("right", "curve = 'R=10 m D=90', turn = 'right'", (10.0, 20.0), (20.0, 10.0)),
        ("left", "curve = 'R=10 m D=90', turn = 'left'", (-10.0, 20.0), (-20.0, 10.0)),
    ] {
        let calls = format!(
            "{{ to = 'p', bearing = 0, distance = 10 }},\n{{ to = 'q', curve = 'R=10 m D=90', turn = '{turn}' }},\n\
             {{ to = 'r', {then} }},"
        );
        check_whole(&traverse("up", &calls), &[("p", 0.0, 10.0), ("q", q.0, q.1), ("r", r.0, r.1)], &[]);
    }
}

const LOOP: &str = "{ to = 'p', bearing = 'due north', distance = 30 },\n{ to = 'q', bearing = 'due east', distance = 40 },\n\
                    { to = 'r', bearing = 'due south', distance = 30 },\n{ to = 'a', bearing = 'due west', distance = 40 },";

#[test]
fn a_loop_that_closes() {
    check_whole(
        &traverse("up", LOOP),
        &[("p", 0.0, 30.0), ("q", 40.0, 30.0), ("r", 40.0, 0.0)],
        &["data::closure"],
    );
}

#[test]
fn a_traverse_alone_gives_the_sheet_its_frame() {
    let text = traverse("10 deg clockwise of up", LOOP);
    let text = text.replace("'a'", "'s'");
    let text = text.replace("[points]\na = { at = [0, 0], by = \"design\" }\nb = { at = [10, 0], by = \"design\" }\nd = { at = [0, 10], by = \"design\" }\n", "");
    let (sin, cos) = libm::sincos(10.0_f64.to_radians());
    let turned = |x: f64, y: f64| (x * cos + y * sin, -x * sin + y * cos);
    // The first by name is where it is counted from.
    let from = turned(0.0, 30.0);
    let place = |x: f64, y: f64| {
        let at = turned(x, y);
        (at.0 - from.0, at.1 - from.1)
    };
    let (s, q, r) = (place(0.0, 0.0), place(40.0, 30.0), place(40.0, 0.0));
    check_whole(
        &text,
        &[("p", 0.0, 0.0), ("s", s.0, s.1), ("q", q.0, q.1), ("r", r.0, r.1)],
        &["data::closure"],
    );
}

#[test]
fn spread_of_a_call() {
    // Along the call the tape errs; across it the bearing, by an angle of the class or as much as the tape.
    let text = "[[traverse]]\nfrom = 'a'\ncalls = [{ to = 'p', bearing = 90, distance = 50 }]\n";
    check_spread(text, &[(X("p"), 0.02), (Y("p"), 0.02)]);
    let by = "by = { plus_minus = '0.0391992796908011 m', angle = '0.1 deg', of_each = 'length' }\n";
    let across = 50.0 * 0.1_f64.to_radians() / 1.959_963_984_540_054;
    check_spread(&format!("{text}{by}"), &[(X("p"), 0.02), (Y("p"), across)]);
}
