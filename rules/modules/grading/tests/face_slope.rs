//! A bank, and a wall that is as steep as walls are.

use groundrule_grading::FaceSlope;
use groundrule_kit::{Grade, Length, Ratio, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<FaceSlope>(), expected);
}

fn lot() -> Sketch {
    let band = |from: f64, to: f64| (Rect::feet(20.0, from, 80.0, from), Rect::feet(20.0, to, 80.0, to));
    Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 100.0, 100.0))
        .feature("wall", "wall", Rect::feet(20.0, 60.0, 80.0, 60.7))
        .on("lot")
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.05)
        .face("lot", band(20.0, 30.0), Length::from_feet(6.0), Ratio::from_percent(60.0))
        .face("lot", band(59.5, 61.0), Length::from_feet(3.0), Ratio::from_percent(200.0))
        .parameter("steeper_than", Ratio::from_fraction(1.0 / 3.0))
        .subjects(&["lot"])
        .group("walls", &["wall"])
}

#[test]
fn the_wall_left_out() {
    check(&lot(), "lot: 0.6; face_height 1.829 m");
    check(&lot().group("walls", &[]), "lot: 0.6; face_height 1.829 m\nlot: 2; face_height 0.914 m");
}

#[test]
fn none() {
    let steep = lot().parameter("steeper_than", Ratio::from_fraction(0.7));
    check(&steep, "lot: not applicable, all that is as steep on its lot is walls");
    let steeper = lot().parameter("steeper_than", Ratio::from_fraction(3.0));
    check(&steeper, "lot: not applicable, no ground of its lot is steeper than 300.0 %");
    check(&lot().parameter("grade", "existing"), "lot: lacking levels of the existing ground");
}
