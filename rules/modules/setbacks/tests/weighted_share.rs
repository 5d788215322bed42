//! Surfaces that count in part.

use groundrule_kit::{Ratio, Rect, Sketch, Value};
use groundrule_setbacks::WeightedShare;

/// A lot of 1000 m2 with a house of 240 m2, a pool of 50 m2 beside it and one of 20 m2 that is drawn under the house.
fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 50.0))
        .feature("house", "dwelling", Rect::metres(2.0, 8.0, 18.0, 23.0))
        .on("lot")
        .feature("pool", "water/pool", Rect::metres(2.0, 30.0, 12.0, 35.0))
        .on("lot")
        .feature("bath", "water/pool", Rect::metres(4.0, 10.0, 9.0, 14.0))
        .on("lot")
        .subjects(&["lot"])
        .group("covering", &["house"])
        .group("weighted", &["pool", "bath"])
}

#[test]
fn the_verdict_hangs_on_the_weight() {
    let check = |percent: f64, share: &str| {
        let told = lot().parameter("weight", Ratio::from_percent(percent)).ask::<WeightedShare>();
        let facts =
            "covered_area 240 m2, weighted_area 50 m2, lot_area 1000 m2, share_without 0.24, share_with 0.29";
        assert_eq!(told, format!("lot: {share}; {facts}"), "{percent} %");
    };
    check(0.0, "0.24");
    check(50.0, "0.265");
    check(100.0, "0.29");
}

#[test]
fn a_row_without_a_weight_is_refused() {
    let check = |sketch: Sketch, given: &str| {
        let told = sketch.ask::<WeightedShare>();
        assert_eq!(told, format!("refused: parameter `weight` is {given}; give a share, such as \"50 %\""));
    };
    check(lot(), "not given");
    check(lot().parameter("weight", Value::from("half")), "a text");
    check(lot().parameter("weight", Ratio::from_percent(150.0)), "a share outside of 0 % to 100 %");
}
