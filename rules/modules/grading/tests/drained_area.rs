//! How much ground drains to a thing.

use groundrule_grading::DrainedArea;
use groundrule_kit::{Area, Grade, Length, Rect, Sketch};

fn yard() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("swale", "swale", Rect::metres(0.0, 20.0, 20.0, 20.0))
        .on("lot")
        .subjects(&["swale"])
}

fn sloping() -> Sketch {
    yard().plane(Grade::Proposed, Length::from_metres(100.0), 0.0, 0.02)
}

#[test]
fn the_area_is_told_beside_the_stated_one() {
    let drained = sloping().draining("swale", Area::from_square_metres(400.0));
    assert_eq!(drained.ask::<DrainedArea>(), "swale: 400 m2");
    let stated = drained.stating("drained_area", Area::from_square_metres(300.0));
    assert_eq!(stated.ask::<DrainedArea>(), "swale: 400 m2; stated 300 m2");
}

#[test]
fn unknown_ground_is_asked_for_and_off_a_lot_it_does_not_arise() {
    assert_eq!(yard().ask::<DrainedArea>(), "swale: lacking levels of the proposed ground");
    let off = Sketch::new()
        .feature("swale", "swale", Rect::metres(0.0, 20.0, 20.0, 20.0))
        .plane(Grade::Proposed, Length::from_metres(100.0), 0.0, 0.02)
        .subjects(&["swale"]);
    assert_eq!(off.ask::<DrainedArea>(), "swale: not applicable, it stands on no lot");
}
