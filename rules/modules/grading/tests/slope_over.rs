//! A lawn on a plane that falls 2 % to the left and 4 % down the sheet (catalog T09).

use groundrule_grading::SlopeOver;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<SlopeOver>(), expected);
}

fn lawn() -> Sketch {
    Sketch::new()
        .feature("lawn", "planting/lawn", Rect::feet(0.0, 0.0, 20.0, 10.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), -0.02, -0.04)
        .subjects(&["lawn"])
}

#[test]
fn the_steepest_way() {
    // hypot(0.02, 0.04) = 4.472 %.
    for figure in ["mean", "least", "greatest"] {
        check(&lawn().parameter("figure", figure), "lawn: 0.045");
    }
}

#[test]
fn what_is_lacking() {
    check(&lawn().parameter("grade", "existing"), "lawn: lacking levels of the existing ground");
    check(&lawn().undrawn("bed", "planting/bed").subjects(&["bed"]), "bed: lacking outline of bed");
}

#[test]
fn a_figure_that_an_area_has_not() {
    check(
        &lawn().parameter("figure", "steepest"),
        "refused: parameter `figure` is \"steepest\"; it may be \"least\" or \"greatest\" or \"mean\"",
    );
}
