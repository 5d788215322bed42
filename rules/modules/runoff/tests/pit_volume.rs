//! What a dry well holds.

use groundrule_kit::{Area, Length, Ratio, Rect, Sketch};
use groundrule_runoff::PitVolume;

fn pit() -> Sketch {
    Sketch::new()
        .feature("w", "dry-well", Rect::metres(0.0, 0.0, 2.0, 2.0))
        .stating("depth", Length::from_metres(1.5))
        .subjects(&["w"])
}

#[test]
fn stone_leaves_room() {
    let row = pit().parameter("voids", Ratio::from_percent(40.0));
    assert_eq!(row.clone().ask::<PitVolume>(), "w: 2.4 m3; pit_volume 6 m3");
    let own = row.stating("void_share", Ratio::from_percent(95.0)).ask::<PitVolume>();
    assert_eq!(own, "w: 5.7 m3; pit_volume 6 m3");
    let drained = pit()
        .stating("void_share", Ratio::from_percent(50.0))
        .stating("drained_area", Area::from_square_metres(60.0))
        .ask::<PitVolume>();
    assert_eq!(drained, "w: 3 m3; pit_volume 6 m3, drained_area 60 m2");
}

#[test]
fn what_is_not_stated_is_asked_for() {
    assert_eq!(pit().ask::<PitVolume>(), "w: lacking void share of w");
    let bare = Sketch::new().feature("w", "dry-well", Rect::metres(0.0, 0.0, 2.0, 2.0)).subjects(&["w"]);
    assert_eq!(bare.ask::<PitVolume>(), "w: lacking depth of w, void share of w");
}

#[test]
fn a_second_pit_on_the_lot_may_take_the_water() {
    let two = Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("roof", "structure", Rect::metres(10.0, 10.0, 20.0, 20.0))
        .on("lot")
        .feature("w", "dry-well", Rect::metres(0.0, 0.0, 2.0, 2.0))
        .on("lot")
        .stating("depth", Length::from_metres(1.5))
        .feature("v", "dry-well", Rect::metres(4.0, 0.0, 6.0, 2.0))
        .on("lot")
        .stating("depth", Length::from_metres(1.5))
        .stating("drained_area", Area::from_square_metres(60.0))
        .subjects(&["w", "v"])
        .parameter("voids", Ratio::from_percent(50.0));
    let told = two.clone().group("drained", &["roof"]).ask::<PitVolume>();
    assert_eq!(told, "w: lacking drained area of w\nv: 3 m3; pit_volume 6 m3, drained_area 60 m2");
    let dry = two.ask::<PitVolume>();
    assert_eq!(dry, "w: 3 m3; pit_volume 6 m3\nv: 3 m3; pit_volume 6 m3, drained_area 60 m2");
}
