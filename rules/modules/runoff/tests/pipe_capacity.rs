//! What a pipe carries.

use groundrule_kit::{Length, Ratio, Rect, Sketch, Speed};
use groundrule_runoff::PipeCapacity;

/// A pipe of 2 m at 1 % with an n of 0.01, full: R = 0.5 m.
fn pipe() -> Sketch {
    Sketch::new()
        .feature("p", "storm-drain", Rect::metres(0.0, 0.0, 10.0, 0.0))
        .stating("inside_diameter", Length::from_metres(2.0))
        .stating("slope", Ratio::from_percent(1.0))
        .stating("roughness", Ratio::from_fraction(0.01))
        .subjects(&["p"])
        .parameter("constant", "exact")
}

#[test]
fn full_and_half_full() {
    // 10 x 0.5^(2/3) = 6.29961 m/s through pi m2.
    assert_eq!(pipe().ask::<PipeCapacity>(), "p: 19.791 m3/s; speed 6.3 m/s, flow_depth 2 m");
    let half = pipe().stating("flow_depth", Length::from_metres(1.0)).ask::<PipeCapacity>();
    assert_eq!(half, "p: 9.895 m3/s; speed 6.3 m/s, flow_depth 1 m");
    let roof = pipe().parameter("intensity", Speed::from_metres_per_second(0.001)).ask::<PipeCapacity>();
    assert!(roof.ends_with("roof_area 19790.794 m2"), "{roof}");
}

#[test]
fn what_is_not_stated_is_asked_for() {
    let bare = Sketch::new().feature("p", "storm-drain", Rect::metres(0.0, 0.0, 10.0, 0.0)).subjects(&["p"]);
    assert_eq!(bare.ask::<PipeCapacity>(), "p: lacking inside diameter of p, slope of p, roughness of p");
    let deep = pipe().stating("flow_depth", Length::from_metres(3.0)).ask::<PipeCapacity>();
    assert_eq!(deep, "p: lacking flow of p");
    assert!(
        pipe()
            .parameter("constant", "1.5")
            .ask::<PipeCapacity>()
            .starts_with("refused: parameter `constant`")
    );
}
