//! Coverage of a lot of 20 m by 40 m, 800 square metres.

use groundrule_kit::{Rect, Sketch};
use groundrule_setbacks::CoverShare;

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("house", "structure/dwelling", Rect::metres(5.0, 10.0, 15.0, 20.0))
        .on("lot")
        .feature("porch", "structure/porch", Rect::metres(5.0, 8.0, 10.0, 12.0))
        .on("lot")
        .subjects(&["lot"])
}

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<CoverShare>(), expected);
}

#[test]
fn each_place_counts_once() {
    // House 100, porch 20 of which 10 under the house's roof: 110 of 800.
    check(&lot().group("covering", &["house", "porch"]), "lot: 0.138; covered_area 110 m2, lot_area 800 m2");
    check(&lot().group("covering", &["house"]), "lot: 0.125; covered_area 100 m2, lot_area 800 m2");
}

#[test]
fn nothing_covers_nothing() {
    check(&lot().group("covering", &[]), "lot: 0; covered_area 0 m2, lot_area 800 m2");
}

#[test]
fn beyond_the_line_does_not_count_but_a_neighbor_reaching_in_does() {
    let sketch = lot()
        .lot("next", Rect::metres(20.0, 0.0, 40.0, 40.0))
        .feature("barn", "structure", Rect::metres(18.0, 30.0, 28.0, 40.0))
        .on("next")
        .subjects(&["lot", "next"])
        .group("covering", &["barn"]);
    check(
        &sketch,
        "lot: 0.025; covered_area 20 m2, lot_area 800 m2\nnext: 0.1; covered_area 80 m2, lot_area 800 m2",
    );
}

#[test]
fn what_is_not_drawn_leaves_the_share_open() {
    let sketch = lot().undrawn("shed", "structure/shed").on("lot").group("covering", &["house", "shed"]);
    check(&sketch, "lot: lacking; covered_area lacking, lot_area 800 m2");
}

#[test]
fn a_lot_without_area_is_asked_for() {
    let sketch = lot().feature("strip", "lot", Rect::metres(0.0, 0.0, 9.0, 0.0)).subjects(&["strip"]);
    check(&sketch, "strip: lacking area of strip");
}

#[test]
fn anything_but_a_lot_is_refused() {
    check(
        &lot().subjects(&["lot", "house"]).group("covering", &["house"]),
        "refused: the subject of cover-share is a lot or another area, and house is not; select kind `lot` and put what covers it \
         into the group `covering`",
    );
}
