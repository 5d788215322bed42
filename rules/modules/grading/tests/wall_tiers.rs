//! Two walls of 4 ft, one above the other (catalog T17).

use groundrule_grading::WallTiers;
use groundrule_kit::{Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<WallTiers>(), expected);
}

fn tiers(apart: f64) -> Sketch {
    let feet = |levels: [f64; 2]| levels.map(Length::from_feet);
    Sketch::new()
        .feature("upper", "wall", Rect::feet(0.0, apart, 40.0, apart))
        .stating_each("top_levels", &feet([108.0, 108.0]))
        .stating_each("bottom_levels", &feet([104.0, 104.0]))
        .feature("lower", "wall", Rect::feet(0.0, 0.0, 40.0, 0.0))
        .stating_each("top_levels", &feet([104.0, 104.0]))
        .stating_each("bottom_levels", &feet([100.0, 100.0]))
        .feature("bare", "wall", Rect::feet(0.0, 60.0, 40.0, 60.0))
        .subjects(&["upper", "lower"])
        .parameter("reach", Length::from_feet(20.0))
}

#[test]
fn together() {
    check(
        &tiers(4.0),
        "upper: not applicable, no wall stands above it within reach\n\
         lower > upper: 2.438 m; lower_height 1.219 m, upper_height 1.219 m, gap 1.219 m",
    );
}

#[test]
fn alone() {
    let nothing = "not applicable, no wall stands above it within reach";
    check(&tiers(21.0), &format!("upper: {nothing}\nlower: {nothing}"));
}

#[test]
fn what_is_lacking() {
    let sketch = tiers(50.0).subjects(&["upper", "bare"]);
    check(
        &sketch,
        "upper > bare: lacking bottom levels of bare; gap 3.048 m\n\
         bare: not applicable, no wall stands above it within reach",
    );
}
