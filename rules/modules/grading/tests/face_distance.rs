//! A house below one slope and above another.

use groundrule_grading::FaceDistance;
use groundrule_kit::{Grade, Length, Ratio, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<FaceDistance>(), expected);
}

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 100.0, 200.0))
        .feature("house", "structure/dwelling", Rect::feet(20.0, 80.0, 60.0, 110.0))
        .on("lot")
        .feature("adrift", "structure/shed", Rect::feet(70.0, 80.0, 80.0, 90.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.05)
        .parameter("steeper_than", Ratio::from_fraction(1.0 / 3.0))
        .subjects(&["house"])
}

fn slopes() -> Sketch {
    let band = |from: f64, to: f64| (Rect::feet(0.0, from, 100.0, from), Rect::feet(0.0, to, 100.0, to));
    lot().face("lot", band(116.0, 136.0), Length::from_feet(12.0), Ratio::from_percent(60.0)).face(
        "lot",
        band(40.0, 70.0),
        Length::from_feet(12.0),
        Ratio::from_percent(40.0),
    )
}

#[test]
fn the_edge_that_it_faces() {
    check(&slopes(), "house: 1.829 m; face_height 3.658 m, face_slope 0.6");
    check(&slopes().parameter("edge", "crest"), "house: 3.048 m; face_height 3.658 m, face_slope 0.4");
    let steeper = slopes().parameter("steeper_than", Ratio::from_fraction(0.5));
    check(&steeper.parameter("edge", "crest"), "house: not applicable, no slope falls away from it");
}

#[test]
fn no_face_or_no_lot() {
    check(&lot(), "house: not applicable, no ground of its lot is steeper than 33.3 %");
    check(&slopes().subjects(&["adrift"]), "adrift: lacking the lot of adrift");
    check(&slopes().parameter("grade", "existing"), "house: lacking levels of the existing ground");
}

#[test]
fn how_steep() {
    let given = |value: Ratio| Sketch::new().parameter("steeper_than", value);
    let help = "give a slope of more than nothing, such as \"1 in 3\" or \"33 %\"";
    check(&Sketch::new(), &format!("refused: parameter `steeper_than` is not given; {help}"));
    check(&given(Ratio::ZERO), &format!("refused: parameter `steeper_than` is no slope; {help}"));
}
