//! Sight areas at a corner of two streets; the area of the sketch is a square of 5 m.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_sight::CornerArea;

fn corner() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .region(&["lot.w", "lot.s"], Rect::metres(0.0, 0.0, 5.0, 5.0))
        .feature("fence", "fence", Rect::metres(1.0, 2.0, 1.0, 30.0))
        .on("lot")
}

fn asked(sketch: Sketch, subject: &str) -> Sketch {
    let lines = ["lot.s", "lot.w"];
    sketch.subjects(&[subject]).group("lines", &lines).parameter("leg", Length::from_metres(5.0))
}

#[test]
fn a_fence_is_told_with_how_much_of_it_stands_inside() {
    let fence = asked(corner().stating("height", Length::from_metres(1.8)), "fence");
    assert_eq!(
        fence.ask::<CornerArea>(),
        "fence > lot.w > lot.s: 1.8 m; inside 1 m, length_inside 3 m, sight_area 25 m2"
    );
}

#[test]
fn branches_reach_as_far_as_the_crown() {
    let tree = corner()
        .feature("tree", "planting/tree", Rect::metres(6.0, 3.0, 6.0, 3.0))
        .on("lot")
        .stating("lowest_branch", Length::from_metres(1.5));
    let told = |sketch: Sketch| asked(sketch, "tree").parameter("blocks", "branches").ask::<CornerArea>();
    assert_eq!(told(tree.clone()), "tree > lot.w > lot.s: 1.5 m; inside -1 m, sight_area 25 m2");
    let crown = tree.stating("spread", Length::from_metres(4.0));
    assert_eq!(told(crown), "tree > lot.w > lot.s: 1.5 m; inside 1 m, sight_area 25 m2");
}

#[test]
fn what_is_lacking_or_does_not_arise() {
    assert_eq!(
        asked(corner(), "fence").ask::<CornerArea>(),
        "fence > lot.w > lot.s: lacking height of fence; inside 1 m, length_inside 3 m, sight_area 25 m2"
    );
    let nowhere = "not applicable, it stands near no corner of two streets on its lot";
    assert_eq!(
        asked(corner(), "fence").group("lines", &["lot.s"]).ask::<CornerArea>(),
        format!("fence: {nowhere}")
    );
    let far = corner().feature("shed", "shed", Rect::metres(12.0, 30.0, 14.0, 32.0)).on("lot");
    assert_eq!(asked(far, "shed").ask::<CornerArea>(), format!("shed: {nowhere}"));
    // Nothing can be laid out from the middle of a street that does not say how wide it is.
    let unlaid = Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("fence", "fence", Rect::metres(1.0, 2.0, 1.0, 30.0))
        .on("lot");
    assert_eq!(
        asked(unlaid, "fence").parameter("from", "centrelines").ask::<CornerArea>(),
        "fence: lacking street width along lot.s, street width along lot.w"
    );
}

#[test]
fn a_row_without_legs_is_refused() {
    let told = corner().subjects(&["fence"]).ask::<CornerArea>();
    assert!(told.starts_with("refused: parameter `leg` is not given"), "{told}");
}
