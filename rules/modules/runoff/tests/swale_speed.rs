//! How fast water runs in a swale.

use groundrule_kit::{Flow, Length, Ratio, Rect, Sketch};
use groundrule_runoff::SwaleSpeed;

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
fn at_its_design_flow_or_its_depth() {
    let at_depth = swale().stating("flow_depth", Length::from_metres(1.0)).ask::<SwaleSpeed>();
    assert_eq!(at_depth, "s: 7.281 m/s; flow 21.844 m3/s, flow_depth 1 m");
    let design = Flow::from_cubic_metres_per_second(21.843_82);
    let at_flow = swale().stating("design_flow", design).ask::<SwaleSpeed>();
    assert_eq!(at_flow, at_depth);
}

#[test]
fn what_is_not_stated_is_asked_for() {
    assert_eq!(swale().ask::<SwaleSpeed>(), "s: lacking design flow of s");
    let bare = Sketch::new().feature("s", "swale", Rect::metres(0.0, 0.0, 9.0, 0.0)).subjects(&["s"]);
    assert_eq!(
        bare.ask::<SwaleSpeed>(),
        "s: lacking side slope of s, slope of s, roughness of s, design flow of s"
    );
}
