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
