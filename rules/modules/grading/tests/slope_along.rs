//! A swale to the right on a plane that falls 2 % that way.

use groundrule_grading::SlopeAlong;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<SlopeAlong>(), expected);
}

fn swale(right: f64) -> Sketch {
    Sketch::new()
        .feature("swale", "swale", Rect::feet(0.0, 5.0, 50.0, 5.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), right, -0.04)
        .subjects(&["swale"])
}

#[test]
fn with_and_without_a_sign() {
    for (figure, expected) in [("least", "0.02"), ("greatest", "0.02"), ("mean", "0.02"), ("fall", "0.02")] {
        check(&swale(-0.02).parameter("figure", figure), &format!("swale: {expected}"));
    }
    for (figure, expected) in
        [("least", "-0.02"), ("steepest", "0.02"), ("flattest", "0.02"), ("fall", "0.02")]
    {
        check(&swale(0.02).parameter("figure", figure), &format!("swale: {expected}"));
    }
}

#[test]
fn what_is_lacking() {
    check(&swale(0.02).parameter("grade", "existing"), "swale: lacking levels of the existing ground");
}

#[test]
fn stations_that_are_turned_round() {
    let turned =
        swale(0.02).parameter("from", Length::from_feet(9.0)).parameter("to", Length::from_feet(3.0));
    check(
        &turned,
        "refused: parameter `from` is not before `to`; give the station nearer to the start first",
    );
}
