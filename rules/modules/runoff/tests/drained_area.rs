//! What is led to something.

use groundrule_kit::{Area, Rect, Sketch};
use groundrule_runoff::DrainedArea;

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("w", "dry-well", Rect::metres(0.0, 0.0, 2.0, 2.0))
        .on("lot")
        .feature("roof", "structure", Rect::metres(10.0, 10.0, 20.0, 20.0))
        .on("lot")
        .feature("porch", "structure", Rect::metres(15.0, 10.0, 25.0, 20.0))
        .on("lot")
        .subjects(&["w"])
}

#[test]
fn each_place_once() {
    assert_eq!(lot().group("drained", &["roof", "porch"]).ask::<DrainedArea>(), "w: 150 m2");
    let stated = lot().feature("v", "dry-well", Rect::metres(4.0, 0.0, 6.0, 2.0)).on("lot");
    let stated = stated.stating("drained_area", Area::from_square_metres(80.0)).subjects(&["v"]);
    assert_eq!(stated.group("drained", &["roof"]).ask::<DrainedArea>(), "v: 80 m2");
}

#[test]
fn what_nobody_says_is_asked_for() {
    assert_eq!(lot().ask::<DrainedArea>(), "w: lacking drained area of w");
}

/// Two that share a lot: neither is charged with every roof, and one on another lot does not matter.
#[test]
fn several_on_a_lot_say_which_roof_is_whose() {
    let second = lot().feature("v", "dry-well", Rect::metres(4.0, 0.0, 6.0, 2.0)).on("lot");
    let both = second.clone().subjects(&["w", "v"]).group("drained", &["roof"]);
    assert_eq!(both.ask::<DrainedArea>(), "w: lacking drained area of w\nv: lacking drained area of v");
    let taker = second.clone().group("drained", &["roof"]).group("takers", &["w", "v"]);
    assert_eq!(taker.ask::<DrainedArea>(), "w: lacking drained area of w");
    let stated = second.stating("drained_area", Area::from_square_metres(80.0)).subjects(&["w", "v"]);
    let stated = stated.group("drained", &["roof"]).ask::<DrainedArea>();
    assert_eq!(stated, "w: lacking drained area of w\nv: 80 m2");
    let apart = lot()
        .lot("next", Rect::metres(100.0, 0.0, 200.0, 100.0))
        .feature("v", "dry-well", Rect::metres(104.0, 0.0, 106.0, 2.0))
        .on("next")
        .group("drained", &["roof"])
        .group("takers", &["w", "v"]);
    assert_eq!(apart.ask::<DrainedArea>(), "w: 100 m2");
}
