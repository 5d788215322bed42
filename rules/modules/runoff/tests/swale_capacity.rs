//! What a swale carries.

use groundrule_kit::{Length, Ratio, Rect, Sketch};
use groundrule_runoff::SwaleCapacity;

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
fn full_to_a_freeboard() {
    let deep = swale().stating("depth", Length::from_metres(1.5));
    let told = deep.parameter("freeboard", Length::from_metres(0.5)).ask::<SwaleCapacity>();
    // 10 x 0.62132^(2/3) = 7.281 m/s.
    assert_eq!(told, "s: 21.844 m3/s; speed 7.281 m/s, flow_depth 1 m");
    let shallow = swale().stating("depth", Length::from_metres(1.0)).ask::<SwaleCapacity>();
    assert_eq!(shallow, told);
}

#[test]
fn what_is_not_stated_is_asked_for() {
    assert_eq!(swale().ask::<SwaleCapacity>(), "s: lacking depth of s");
    let all_bank = swale().stating("depth", Length::from_metres(0.5));
    let all_bank = all_bank.parameter("freeboard", Length::from_metres(0.5)).ask::<SwaleCapacity>();
    assert_eq!(all_bank, "s: lacking flow of s");
}
