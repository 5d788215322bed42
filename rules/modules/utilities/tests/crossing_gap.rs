//! A water pipe that crosses a sewer.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::CrossingGap;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<CrossingGap>(), expected);
}

fn pipes() -> Sketch {
    Sketch::new()
        .feature("sewer", "utility/buried-line/sewer-lateral", Rect::metres(0.0, 0.0, 0.0, 20.0))
        .stating("cover", Length::from_inches(60.0))
        .feature("drain", "utility/buried-line/storm-drain", Rect::metres(9.0, 0.0, 9.0, 20.0))
        .feature("water", "utility/buried-line/water-line", Rect::metres(-5.0, 8.0, 5.0, 8.0))
        .subjects(&["water"])
        .group("others", &["sewer", "drain"])
}

#[test]
fn the_earth_between_underside_and_top() {
    // Recommended standards for water works, 8.8: 18 in between the two; here 60 in of cover over the sewer and 40 in
    // over a pipe of 2 in leave 18 in, which is 457.2 mm.
    let sketch =
        pipes().stating("cover", Length::from_inches(40.0)).stating("diameter", Length::from_inches(2.0));
    check(&sketch, "water > sewer: 0.457 m; cover 1.016 m, other_cover 1.524 m, other sewer");
}

#[test]
fn a_pipe_that_lies_lower_is_negative() {
    let sketch =
        pipes().stating("cover", Length::from_inches(60.0)).stating("diameter", Length::from_inches(2.0));
    check(&sketch, "water > sewer: -0.051 m; cover 1.524 m, other_cover 1.524 m, other sewer");
}

#[test]
fn everything_that_is_lacking_at_once() {
    check(&pipes(), "water > sewer: lacking cover of water, diameter of water; other sewer");
    let sketch = pipes()
        .stating("cover", Length::from_inches(40.0))
        .stating("diameter", Length::from_inches(2.0))
        .undrawn("old-sewer", "utility/buried-line/sewer-lateral")
        .subjects(&["water", "old-sewer"])
        .group("others", &["old-sewer"]);
    check(&sketch, "water > old-sewer: lacking\nold-sewer: lacking outline of old-sewer");
}

#[test]
fn nothing_crossed() {
    check(&pipes().group("others", &["drain"]), "water: not applicable, it crosses no such line");
}
