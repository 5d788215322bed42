//! A cable below a drive, and beside it.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::StatedLengthAt;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<StatedLengthAt>(), expected);
}

/// A cable along x = 0 and a drive with its near side so far east of it.
fn cable(gap: f64) -> Sketch {
    Sketch::new()
        .feature("drive", "paving/drive", Rect::metres(gap, 0.0, gap + 3.0, 5.0))
        .feature("cable", "utility/buried-line/buried-power", Rect::metres(0.0, 0.0, 0.0, 9.0))
        .subjects(&["cable"])
        .group("places", &["drive"])
        .parameter("name", "cover")
}

#[test]
fn only_where_the_two_meet() {
    let stating = |gap: f64| cable(gap).stating("cover", Length::from_metres(0.45));
    check(&stating(-1.0), "cable > drive: 0.45 m; place drive");
    check(&stating(1.0), "cable: not applicable, it meets no such thing");
    check(&cable(-1.0), "cable > drive: lacking cover of cable; place drive");
}

#[test]
fn what_is_not_drawn_is_lacking() {
    let sketch = cable(-1.0).stating("cover", Length::from_metres(0.45));
    let sketch = sketch.undrawn("court", "paving/parking").group("places", &["court"]);
    check(&sketch, "cable > court: lacking; place court");
    check(&sketch.subjects(&["court"]).group("places", &["drive"]), "court: lacking outline of court");
    let bare = cable(-1.0).parameter("name", true);
    check(
        &bare,
        "refused: parameter `name` is a yes or no; give the name of an attribute, such as \"cover\"",
    );
}
