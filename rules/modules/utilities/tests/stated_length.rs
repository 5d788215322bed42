//! A cover and a height that are stated.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::StatedLength;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<StatedLength>(), expected);
}

fn pipe() -> Sketch {
    Sketch::new()
        .feature("gas", "utility/buried-line/gas-line", Rect::metres(0.0, 0.0, 0.0, 9.0))
        .subjects(&["gas"])
        .parameter("name", "cover")
}

#[test]
fn what_is_stated() {
    check(&pipe().stating("cover", Length::from_inches(18.0)), "gas: 0.457 m");
    check(&pipe(), "gas: lacking cover of gas");
    // A thing that is not drawn may still state a length.
    let breaker = Sketch::new()
        .undrawn("breaker", "utility/backflow-preventer")
        .stating("height_above_outlets", Length::from_inches(12.0))
        .subjects(&["breaker"]);
    check(&breaker.parameter("name", "height_above_outlets"), "breaker: 0.305 m");
}

#[test]
fn a_row_that_names_nothing_is_refused() {
    let bare = Sketch::new().feature("gas", "utility", Rect::metres(0.0, 0.0, 0.0, 9.0)).subjects(&["gas"]);
    check(&bare, "refused: parameter `name` is not given; name an attribute, such as \"cover\"");
    let number = bare.parameter("name", Length::from_metres(1.0));
    check(
        &number,
        "refused: parameter `name` is a quantity; give the name of an attribute, such as \"cover\"",
    );
}
