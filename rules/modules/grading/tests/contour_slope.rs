//! A lot of an acre and less on a plane: the slope by contours is that of the plane.

use groundrule_grading::ContourSlope;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<ContourSlope>(), expected);
}

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 208.71, 208.71))
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.12, 0.05)
        .parameter("interval", Length::from_feet(2.0))
        .subjects(&["lot"])
}

#[test]
fn interval_times_length_over_area() {
    // hypot(0.12, 0.05) = 0.13: 2 ft of interval and 2831.4 ft of contours on 43 560 sq ft.
    check(&lot(), "lot: 0.13; contours 863.008 m");
}

#[test]
fn what_covers_nothing_or_is_not_known() {
    let line = lot().feature("swale", "swale", Rect::feet(0.0, 0.0, 9.0, 0.0)).subjects(&["swale"]);
    check(&line, "swale: not applicable, it covers no area");
    check(&lot().parameter("grade", "existing"), "lot: lacking levels of the existing ground");
}
