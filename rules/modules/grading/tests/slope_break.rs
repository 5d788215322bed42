//! A drive with a change of slope.

use groundrule_grading::SlopeBreak;
use groundrule_kit::{Grade, Length, Ratio, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<SlopeBreak>(), expected);
}

fn drive() -> Sketch {
    Sketch::new()
        .feature("drive", "paving/drive", Rect::feet(0.0, 0.0, 12.0, 50.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.05)
        .parameter("stretch", Length::from_feet(11.0))
        .subjects(&["drive"])
}

#[test]
fn the_greatest_change() {
    check(&drive(), "drive: 0");
    check(&drive().slope_change("drive", Ratio::from_percent(8.0)), "drive: 0.08");
}

#[test]
fn what_is_lacking() {
    check(&drive().parameter("grade", "existing"), "drive: lacking levels of the existing ground");
    check(&Sketch::new(), "refused: parameter `stretch` is not given; give a length such as \"10 ft\"");
}
