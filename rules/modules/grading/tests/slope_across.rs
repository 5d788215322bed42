//! A walk to the right on a plane that falls 2 % down the sheet, to the right of one who walks it.

use groundrule_grading::SlopeAcross;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<SlopeAcross>(), expected);
}

fn walk() -> Sketch {
    Sketch::new()
        .feature("walk", "paving/walk", Rect::feet(0.0, 0.0, 50.0, 4.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), -0.049, 0.02)
        .subjects(&["walk"])
}

#[test]
fn to_its_right() {
    check(&walk(), "walk: 0.02");
    check(&walk().parameter("figure", "least"), "walk: 0.02");
}

#[test]
fn what_is_lacking() {
    check(&walk().parameter("grade", "existing"), "walk: lacking levels of the existing ground");
}

#[test]
fn undrawn() {
    check(&walk().undrawn("path", "paving/walk").subjects(&["path"]), "path: lacking outline of path");
}
