//! Distances that can be told.

use groundrule_kit::{Rect, Sketch};
use groundrule_submittal::Dimensioned;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Dimensioned>(), expected);
}

const LINES: [&str; 4] = ["lot.s", "lot.e", "lot.n", "lot.w"];

/// A lot of 20 m by 40 m with a house 5 m from its sides, and a shed 2 m from the east line.
fn plan() -> Sketch {
    Sketch::new()
        .undrawn("sheet", "sheet")
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("house", "structure/dwelling", Rect::metres(5.0, 10.0, 15.0, 20.0))
        .on("lot")
        .feature("shed", "structure/shed", Rect::metres(15.0, 30.0, 18.0, 33.0))
        .on("lot")
        .subjects(&["sheet"])
}

#[test]
fn to_lines_and_to_each_other() {
    let lines = plan().group("things", &["house", "shed"]).group("others", &LINES);
    check(&lines, "sheet: yes; distances 8, least 2 m");
    // Each pair counts once: house to shed, 10 m to the north.
    let others = plan().group("things", &["house", "shed"]).group("others", &["house", "shed"]);
    check(&others, "sheet: yes; distances 1, least 10 m");
}

#[test]
fn nothing_to_measure_to() {
    check(
        &plan().group("things", &["house"]).group("others", &["house"]),
        "sheet: not applicable, there is nothing else to measure to",
    );
}

#[test]
fn what_is_not_drawn_or_stands_on_no_lot() {
    let sketch = plan().undrawn("carport", "structure/carport").on("lot");
    check(
        &sketch.group("things", &["house", "carport"]).group("others", &LINES),
        "sheet: lacking outline of carport",
    );
    let sketch = plan().feature("barn", "structure", Rect::metres(30.0, 0.0, 40.0, 10.0));
    check(
        &sketch.group("things", &["house", "barn"]).group("others", &LINES),
        "sheet: lacking the lot that barn stands on",
    );
}
