//! Bank over the water.

use groundrule_kit::{Length, Ratio, Rect, Sketch};
use groundrule_runoff::SwaleFreeboard;

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
fn depth_less_water() {
    let water = swale().stating("flow_depth", Length::from_metres(1.0));
    let told = water.clone().stating("depth", Length::from_metres(1.25)).ask::<SwaleFreeboard>();
    assert_eq!(told, "s: 0.25 m; flow_depth 1 m, flow 21.844 m3/s");
    let over = water.clone().stating("depth", Length::from_metres(0.75)).ask::<SwaleFreeboard>();
    assert!(over.starts_with("s: -0.25 m"), "{over}");
    assert_eq!(water.ask::<SwaleFreeboard>(), "s: lacking depth of s");
    let dry = swale().stating("depth", Length::from_metres(1.0)).ask::<SwaleFreeboard>();
    assert_eq!(dry, "s: lacking design flow of s");
}
