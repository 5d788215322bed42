//! Eaves over yards, on a lot of 20 m by 40 m.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::EaveProjection;

fn house() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("house", "dwelling", Rect::metres(2.4, 8.0, 15.0, 20.0))
        .on("lot")
}

#[test]
fn the_eave_is_told_with_its_yard_and_what_is_left() {
    let sketch = house().stating("eave", Length::from_metres(0.4));
    let sketch = sketch.subjects(&["house"]).group("lines", &["lot.w"]);
    assert_eq!(sketch.ask::<EaveProjection>(), "house > lot.w: 0.4 m; line lot.w, left 2 m, yard 2.4 m");
}

#[test]
fn an_eave_or_a_line_that_is_not_there() {
    let sketch = house().subjects(&["house"]);
    assert_eq!(
        sketch.clone().group("lines", &["lot.w"]).ask::<EaveProjection>(),
        "house > lot.w: lacking eave of house"
    );
    assert_eq!(
        sketch.ask::<EaveProjection>(),
        "house: not applicable, lot has no line of the kind asked about"
    );
}
