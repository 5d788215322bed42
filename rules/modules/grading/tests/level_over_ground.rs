//! A house whose siding is to stand over the ground.

use groundrule_grading::LevelOverGround;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<LevelOverGround>(), expected);
}

fn house() -> Sketch {
    Sketch::new()
        .feature("house", "structure/dwelling", Rect::feet(10.0, 20.0, 40.0, 50.0))
        .feature("patio", "paving/patio", Rect::feet(10.0, 50.0, 30.0, 60.0))
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.01)
        .parameter("of", "siding_level")
        .subjects(&["house"])
        .group("paving", &[])
}

fn stating(feet: f64) -> Sketch {
    let house = Sketch::new()
        .feature("house", "structure/dwelling", Rect::feet(10.0, 20.0, 40.0, 50.0))
        .stating("siding_level", Length::from_feet(feet))
        .feature("patio", "paving/patio", Rect::feet(10.0, 50.0, 30.0, 60.0));
    house
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.01)
        .parameter("of", "siding_level")
        .subjects(&["house"])
}

#[test]
fn over_the_highest_ground_around_it() {
    // The ground is highest at the rear wall: 100.5 ft, so 101 ft leaves 6 in.
    check(&stating(101.0), "house: 0.152 m; ground 30.632 m, paved no");
    check(&stating(101.0).parameter("figure", "least"), "house: 0.244 m; ground 30.541 m, paved no");
    check(&stating(100.0).group("paving", &["patio"]), "house: -0.152 m; ground 30.632 m, paved yes");
}

#[test]
fn what_is_lacking() {
    check(&house(), "house: lacking siding level of house; ground 30.632 m, paved no");
    check(&house().parameter("grade", "existing"), "house: lacking levels of the existing ground");
}

#[test]
fn which_level() {
    check(
        &Sketch::new(),
        "refused: parameter `of` is not given; give the name of a level, such as \"floor_level\"",
    );
}
