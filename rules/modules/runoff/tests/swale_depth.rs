//! How deep water stands in a swale.

use groundrule_kit::{Flow, Length, Ratio, Rect, Sketch};
use groundrule_runoff::SwaleDepth;

/// A bed of 2 m with sides of 1 in 1, 1 m of water at 1 % with an n of 0.01: A = 3 m2, R = 0.62132 m.
fn swale() -> Sketch {
    Sketch::new()
        .feature("s", "swale", Rect::metres(0.0, 0.0, 10.0, 0.0))
        .stating("bottom_width", Length::from_metres(2.0))
        .stating("side_slope", Ratio::from_fraction(1.0))
        .stating("slope", Ratio::from_percent(1.0))
        .stating("roughness", Ratio::from_fraction(0.01))
        .subjects(&["s"])
        .parameter("constant", "exact")
}

#[test]
fn at_its_design_flow() {
    let told =
        swale().stating("design_flow", Flow::from_cubic_metres_per_second(21.843_82)).ask::<SwaleDepth>();
    assert_eq!(told, "s: 1 m; flow 21.844 m3/s, speed 7.281 m/s");
    // A depth of water that is stated says so itself.
    let told = swale().stating("flow_depth", Length::from_metres(1.0)).ask::<SwaleDepth>();
    assert_eq!(told, "s: 1 m; flow 21.844 m3/s, speed 7.281 m/s");
}

#[test]
fn level_ground_has_no_depth() {
    let flat =
        swale().stating("slope", Ratio::ZERO).stating("design_flow", Flow::from_cubic_metres_per_second(1.0));
    assert_eq!(flat.ask::<SwaleDepth>(), "s: lacking flow of s");
    assert_eq!(swale().ask::<SwaleDepth>(), "s: lacking design flow of s");
}
