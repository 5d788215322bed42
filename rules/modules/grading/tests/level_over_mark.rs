//! A house over the gutter of its street.

use groundrule_grading::LevelOverMark;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<LevelOverMark>(), expected);
}

fn street() -> Sketch {
    Sketch::new()
        .feature("house", "structure/dwelling", Rect::feet(10.0, 20.0, 40.0, 50.0))
        .stating("foundation_level", Length::from_feet(102.0))
        .feature("curb", "curb", Rect::feet(0.0, -10.0, 60.0, -10.0))
        .feature("far", "curb", Rect::feet(0.0, 90.0, 60.0, 90.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.05)
        .parameter("of", "foundation_level")
        .subjects(&["house"])
        .group("marks", &["far", "curb"])
}

#[test]
fn over_the_nearest() {
    // The gutter lies at 99.5 ft, 30 ft off.
    check(&street(), "house > curb: 0.762 m; distance 9.144 m");
}

#[test]
fn what_is_lacking() {
    check(&street().group("marks", &[]), "house: lacking the mark it is measured from");
    check(
        &street().parameter("of", "floor_level"),
        "house > curb: lacking floor level of house; distance 9.144 m",
    );
    check(&street().parameter("grade", "existing"), "house: lacking levels of the existing ground");
    let undrawn = street().undrawn("inlet", "inlet").group("marks", &["inlet"]);
    check(&undrawn, "house: lacking outline of inlet");
}
