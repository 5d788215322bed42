//! Yards that hang on the gap to the house.

use groundrule_kit::{Rect, Sketch};
use groundrule_setbacks::YardByGap;

fn shed() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("house", "dwelling", Rect::metres(5.0, 8.0, 15.0, 18.0))
        .on("lot")
        .feature("annex", "dwelling", Rect::metres(5.0, 1.0, 15.0, 5.0))
        .on("lot")
        .feature("shed", "accessory-structure/shed", Rect::metres(1.0, 21.0, 4.0, 23.0))
        .on("lot")
        .subjects(&["shed"])
        .group("lines", &["lot.w"])
}

#[test]
fn the_nearest_main_building_gives_the_gap() {
    assert_eq!(
        shed().group("main", &["house", "annex"]).ask::<YardByGap>(),
        "shed > lot.w: 1 m; line lot.w, main house, gap 3.162 m"
    );
}

#[test]
fn without_a_main_building_there_is_no_gap() {
    assert_eq!(shed().ask::<YardByGap>(), "shed > lot.w: 1 m; line lot.w");
}
