//! A wall of 3.5 ft whose footing lies 1 ft below the low ground (catalog T16).

use groundrule_grading::WallHeight;
use groundrule_kit::{Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<WallHeight>(), expected);
}

fn wall() -> Sketch {
    let feet = |levels: [f64; 2]| levels.map(Length::from_feet);
    Sketch::new()
        .feature("wall", "wall", Rect::feet(0.0, 0.0, 40.0, 0.0))
        .stating_each("top_levels", &feet([103.5, 103.0]))
        .stating_each("bottom_levels", &feet([100.0, 100.0]))
        .stating_each("upper_levels", &feet([103.0, 102.8]))
        .stating("footing_depth", Length::from_feet(1.0))
        .subjects(&["wall"])
}

#[test]
fn where_it_is_greatest() {
    // 3.5 ft, 3 ft, and 4.5 ft from the underside of the footing.
    let rows = [("exposed", "1.067 m"), ("retained", "0.914 m"), ("from-footing", "1.372 m")];
    for (measure, expected) in rows {
        check(&wall().parameter("measure", measure), &format!("wall: {expected}"));
    }
}

#[test]
fn without_levels() {
    let plain = Sketch::new()
        .feature("low", "wall", Rect::feet(0.0, 0.0, 40.0, 0.0))
        .stating("height", Length::from_feet(3.0))
        .stating("ground_step", Length::from_feet(2.0))
        .feature("bare", "wall", Rect::feet(0.0, 9.0, 40.0, 9.0))
        .subjects(&["low", "bare"]);
    check(&plain, "low: 0.914 m\nbare: lacking height of bare");
    check(&plain.clone().parameter("measure", "retained"), "low: 0.61 m\nbare: lacking ground held by bare");
    check(
        &plain.parameter("measure", "from-footing"),
        "low: lacking footing depth of low\nbare: lacking height of bare, footing depth of bare",
    );
}

#[test]
fn a_wall_that_holds_nothing() {
    let free = Sketch::new()
        .feature("free", "wall", Rect::feet(0.0, 0.0, 40.0, 0.0))
        .stating("height_side", "level")
        .subjects(&["free"]);
    check(
        &free.parameter("measure", "retained"),
        "free: not applicable, the ground is level on both sides of it",
    );
}

#[test]
fn a_height_from_the_high_side_takes_the_step_of_the_ground() {
    let wall = || {
        Sketch::new()
            .feature("wall", "structure/wall", Rect::metres(0.0, 0.0, 10.0, 0.0))
            .stating("height", Length::from_metres(0.3))
            .stating("height_side", "high")
            .subjects(&["wall"])
    };
    assert_eq!(wall().ask::<WallHeight>(), "wall: lacking step of the ground at wall");
    assert_eq!(wall().stating("ground_step", Length::from_metres(1.5)).ask::<WallHeight>(), "wall: 1.8 m");
}
