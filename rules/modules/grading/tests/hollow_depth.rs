//! A lot with and without a hollow.

use groundrule_grading::HollowDepth;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<HollowDepth>(), expected);
}

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .plane(Grade::Proposed, Length::from_metres(100.0), 0.0, 0.05)
        .subjects(&["lot"])
}

#[test]
fn the_deepest() {
    let hollows = lot().hollow("lot", Length::from_metres(0.06)).hollow("lot", Length::from_metres(0.3));
    check(&hollows, "lot: 0.3 m; area 1 m2, volume 0.1 m3");
}

#[test]
fn none() {
    check(&lot(), "lot: -1 m; shown_as no hollow, zero_as no hollow");
}

#[test]
fn what_is_lacking() {
    check(&lot().parameter("grade", "existing"), "lot: lacking levels of the existing ground");
}
