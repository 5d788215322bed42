//! A swale that ends before its inlet.

use groundrule_grading::OutfallGap;
use groundrule_kit::{Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<OutfallGap>(), expected);
}

fn swale() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 60.0, 100.0))
        .feature("swale", "swale", Rect::feet(55.0, 10.0, 55.0, 90.0))
        .feature("inlet", "inlet", Rect::feet(55.0, 4.0, 55.0, 4.0))
        .subjects(&["swale"])
        .group("ends", &["lot.s", "inlet"])
}

#[test]
fn the_nearest() {
    check(&swale(), "swale > inlet: 1.829 m; to inlet");
    check(&swale().group("ends", &["lot.s"]), "swale > lot.s: 3.048 m; to lot.s");
}

#[test]
fn what_is_lacking() {
    check(&swale().group("ends", &[]), "swale: lacking where swale ends");
    check(
        &swale().undrawn("pipe", "drain-outlet").group("ends", &["pipe"]),
        "swale: lacking outline of pipe",
    );
    check(&swale().undrawn("ditch", "swale").subjects(&["ditch"]), "ditch: lacking outline of ditch");
}

#[test]
fn not_to_itself() {
    check(&swale().group("ends", &["swale"]), "swale: lacking where swale ends");
}
