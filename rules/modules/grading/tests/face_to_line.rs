//! A fill toward one side line and a cut toward the other.

use groundrule_grading::FaceToLine;
use groundrule_kit::{Grade, Length, Ratio, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<FaceToLine>(), expected);
}

fn lot() -> Sketch {
    let band = |from: f64, to: f64| (Rect::feet(from, 20.0, from, 80.0), Rect::feet(to, 20.0, to, 80.0));
    Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 100.0, 100.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.05)
        .face("lot", band(4.0, 20.0), Length::from_feet(8.0), Ratio::from_percent(50.0))
        .face("lot", band(80.0, 98.0), Length::from_feet(8.0), Ratio::from_percent(44.0))
        .parameter("steeper_than", Ratio::from_fraction(1.0 / 3.0))
        .subjects(&["lot"])
        .group("lines", &["lot.e", "lot.w"])
}

#[test]
fn foot_and_top() {
    // Each line has the foot of one of them nearer, and the top of the other.
    check(
        &lot().group("lines", &["lot.w"]),
        "lot > lot.w: 1.219 m; face_height 2.438 m, face_slope 0.5\n\
         lot > lot.w: 24.384 m; face_height 2.438 m, face_slope 0.44",
    );
    check(
        &lot().parameter("edge", "crest"),
        "lot > lot.e: 24.384 m; face_height 2.438 m, face_slope 0.5\n\
         lot > lot.e: 0.61 m; face_height 2.438 m, face_slope 0.44",
    );
}

#[test]
fn none() {
    check(&lot().group("lines", &[]), "lot: not applicable, no slope has that edge toward such a line");
    let flatter = lot().parameter("steeper_than", Ratio::from_fraction(0.6));
    check(&flatter, "lot: not applicable, no ground of its lot is steeper than 60.0 %");
    check(&lot().parameter("grade", "existing"), "lot: lacking levels of the existing ground");
}
