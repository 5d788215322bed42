//! A shed beside, at and in an easement 3 m wide along the rear of a lot.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::Overlap;

fn shed(bottom: f64) -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("easement", "area/easement", Rect::metres(0.0, 37.0, 20.0, 40.0))
        .feature("shed", "structure/shed", Rect::metres(2.0, bottom, 6.0, bottom + 2.0))
        .on("lot")
        .subjects(&["shed"])
        .group("areas", &["easement"])
}

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Overlap>(), expected);
}

#[test]
fn clear_touching_and_inside() {
    check(&shed(33.0), "shed > easement: 2 m; area easement, shared_area 0 m2, share 0");
    check(&shed(35.0), "shed > easement: 0 m; area easement, shared_area 0 m2, share 0");
    // Half a metre of the shed's two, over its 4 m.
    check(&shed(35.5), "shed > easement: -0.5 m; area easement, shared_area 2 m2, share 0.25");
}

#[test]
fn a_line_has_no_share() {
    let sketch = shed(33.0)
        .feature("fence", "fence", Rect::metres(10.0, 30.0, 10.0, 38.0))
        .on("lot")
        .subjects(&["fence"]);
    check(&sketch, "fence > easement: -1 m; area easement, length_inside 1 m");
}

#[test]
fn every_subject_is_answered() {
    let alone = "shed: not applicable, no such area is within reach";
    check(&shed(33.0).group("areas", &[]), alone);
    check(&shed(33.0).parameter("reach", Length::from_metres(1.5)), alone);
    check(
        &shed(33.0).parameter("reach", Length::from_metres(2.5)),
        "shed > easement: 2 m; area easement, shared_area 0 m2, share 0",
    );
}

#[test]
fn what_is_not_drawn_is_lacking_however_short_the_reach() {
    let sketch = shed(10.0)
        .undrawn("drain", "area/easement")
        .undrawn("tank", "structure")
        .subjects(&["shed", "tank"])
        .group("areas", &["drain", "easement"])
        .parameter("reach", Length::from_metres(1.0));
    check(
        &sketch,
        "shed > drain: lacking; area drain, shared_area lacking, share lacking\ntank: lacking outline of tank",
    );
}
