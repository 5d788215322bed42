//! Stated areas over drawn ones.

use groundrule_kit::{Area, Rect, Sketch};
use groundrule_submittal::AreaAgreement;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<AreaAgreement>(), expected);
}

fn shed(rect: Rect) -> Sketch {
    Sketch::new().feature("shed", "structure/shed", rect).subjects(&["shed"])
}

fn stating(sketch: Sketch, square_metres: f64) -> Sketch {
    sketch.stating("stated_area", Area::from_square_metres(square_metres))
}

#[test]
fn stated_over_drawn() {
    let rect = || shed(Rect::metres(0.0, 0.0, 4.0, 5.0));
    check(&stating(rect(), 20.0), "shed: 1; stated 20 m2, drawn 20 m2");
    check(&stating(rect(), 25.0), "shed: 1.25; stated 25 m2, drawn 20 m2");
    check(&rect(), "shed: not applicable, no area is stated of it");
}

#[test]
fn what_has_no_area_is_asked_for() {
    check(&stating(shed(Rect::metres(0.0, 0.0, 4.0, 0.0)), 20.0), "shed: lacking outline of shed");
}

#[test]
fn what_is_not_drawn_leaves_it_open() {
    let sketch = Sketch::new().undrawn("shed", "structure/shed").subjects(&["shed"]);
    check(&stating(sketch, 20.0), "shed: lacking; stated 20 m2, drawn lacking");
}
