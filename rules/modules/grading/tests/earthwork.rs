//! Earth moved on a lot and under the crown of a tree.

use groundrule_grading::Earthwork;
use groundrule_kit::{Grade, Length, Rect, Sketch, Volume};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Earthwork>(), expected);
}

fn lot() -> Sketch {
    let volume = Volume::from_cubic_metres;
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("oak", "planting/tree", Rect::metres(5.0, 5.0, 5.0, 5.0))
        .stating("spread", Length::from_metres(8.0))
        .feature("ash", "planting/tree", Rect::metres(9.0, 9.0, 9.0, 9.0))
        .plane(Grade::Proposed, Length::from_metres(100.0), -0.02, 0.0)
        .plane(Grade::Existing, Length::from_metres(100.0), -0.02, 0.0)
        .earth("lot", volume(20.0), volume(50.0))
        .subjects(&["lot"])
}

#[test]
fn by_what_is_counted() {
    let rows = [("moved", "70 m3"), ("cut", "20 m3"), ("fill", "50 m3"), ("net", "30 m3")];
    for (which, expected) in rows {
        check(&lot().parameter("which", which), &format!("lot: {expected}; cut 20 m3, fill 50 m3"));
    }
}

#[test]
fn under_a_crown() {
    // Nothing was handed in for the circle of 4 m around the oak but the circle itself.
    let crown = lot().region(&["oak"], Rect::metres(1.0, 1.0, 9.0, 9.0)).parameter("around", "spread");
    check(&crown.clone().subjects(&["oak"]), "oak: lacking; cut lacking, fill lacking");
    check(&crown.subjects(&["ash"]), "ash: lacking spread of ash");
}

#[test]
fn what_is_lacking() {
    let bare = Sketch::new().lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0)).subjects(&["lot"]);
    check(&bare, "lot: lacking levels of the proposed ground");
    let new = bare.plane(Grade::Proposed, Length::from_metres(100.0), 0.0, 0.0);
    check(&new, "lot: lacking levels of the existing ground");
}
