//! Size of a rain garden.

use groundrule_kit::{Area, Rect, Sketch};
use groundrule_runoff::GardenArea;

fn garden() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("roof", "structure", Rect::metres(10.0, 10.0, 20.0, 20.0))
        .on("lot")
        .feature("g", "rain-garden", Rect::metres(0.0, 0.0, 4.0, 5.0))
        .on("lot")
        .subjects(&["g"])
}

#[test]
fn beside_what_it_takes() {
    assert_eq!(garden().group("drained", &["roof"]).ask::<GardenArea>(), "g: 20 m2; drained_area 100 m2");
    let stated = garden().stating("drained_area", Area::from_square_metres(60.0)).ask::<GardenArea>();
    assert_eq!(stated, "g: 20 m2; drained_area 60 m2");
    assert_eq!(garden().ask::<GardenArea>(), "g: lacking drained area of g");
}

#[test]
fn a_second_garden_on_the_lot_may_take_the_water() {
    let two = garden().feature("f", "rain-garden", Rect::metres(6.0, 0.0, 9.0, 5.0)).on("lot");
    let two = two.group("drained", &["roof"]);
    assert_eq!(two.clone().group("takers", &["f"]).ask::<GardenArea>(), "g: lacking drained area of g");
    assert_eq!(two.ask::<GardenArea>(), "g: 20 m2; drained_area 100 m2");
}
