//! The drawn arrow against north.

use groundrule_kit::{Angle, Sketch};
use groundrule_submittal::ArrowAgreement;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<ArrowAgreement>(), expected);
}

fn sheet() -> Sketch {
    Sketch::new().undrawn("sheet", "sheet").subjects(&["sheet"])
}

#[test]
fn the_angle_between_them() {
    let off = |degrees: f64| {
        sheet().stating("arrow", "left").stating("arrow_off_north", Angle::from_degrees(degrees))
    };
    check(&off(90.0), "sheet: 1.571 rad");
    check(&off(0.0), "sheet: 0 rad");
}

#[test]
fn one_alone_says_nothing() {
    check(&sheet(), "sheet: not applicable, no north arrow is drawn");
    check(&sheet().stating("arrow", "up"), "sheet: not applicable, the plan does not say where north is");
}
