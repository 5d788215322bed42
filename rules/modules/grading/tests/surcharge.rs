//! A drive 7 ft from a wall of 4 ft (catalog T19).

use groundrule_grading::Surcharge;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Surcharge>(), expected);
}

fn yard() -> Sketch {
    let feet = |levels: [f64; 2]| levels.map(Length::from_feet);
    Sketch::new()
        .feature("wall", "wall", Rect::feet(0.0, 0.0, 40.0, 0.0))
        .stating_each("top_levels", &feet([104.0, 104.0]))
        .stating_each("bottom_levels", &feet([100.0, 100.0]))
        .feature("drive", "paving/drive", Rect::feet(0.0, 7.0, 40.0, 19.0))
        .feature("shed", "structure/shed", Rect::feet(0.0, -20.0, 8.0, -10.0))
        .parameter("reach", Length::from_feet(30.0))
        .subjects(&["wall"])
        .group("loads", &["drive", "shed"])
}

#[test]
fn each_load() {
    check(
        &yard().plane(Grade::Proposed, Length::from_feet(102.0), 0.0, 0.3),
        "wall > drive: 2.134 m; wall_height 1.219 m, above yes\n\
         wall > shed: 3.048 m; wall_height 1.219 m, above no",
    );
}

#[test]
fn without_levels_of_the_ground() {
    check(&yard().group("loads", &["shed"]), "wall > shed: 3.048 m; wall_height 1.219 m, above yes");
}

#[test]
fn nothing_near_and_nothing_stated() {
    check(&yard().group("loads", &[]), "wall: not applicable, nothing that loads it is within reach");
    let bare = yard().feature("bare", "wall", Rect::feet(0.0, 3.0, 40.0, 3.0)).subjects(&["bare"]);
    check(&bare.group("loads", &["drive"]), "bare > drive: lacking height of bare; above yes");
}
