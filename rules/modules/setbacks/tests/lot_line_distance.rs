//! Yards on a sketch: a lot of 20 m by 40 m with a shed of 3 m by 2 m.

use groundrule_kit::{Length, Ratio, Rect, Sketch};
use groundrule_setbacks::LotLineDistance;

fn lot() -> Sketch {
    Sketch::new().lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
}

fn with_shed(left: f64, bottom: f64) -> Sketch {
    lot().feature("shed", "structure/shed", Rect::metres(left, bottom, left + 3.0, bottom + 2.0))
}

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<LotLineDistance>(), expected);
}

#[test]
fn each_line_of_the_group_gets_its_yard() {
    let sketch = with_shed(1.0, 5.0).on("lot").subjects(&["shed"]);
    check(
        &sketch.clone().group("lines", &["lot.w", "lot.e"]),
        "shed > lot.e: 16 m; line lot.e, role side\nshed > lot.w: 1 m; line lot.w, role side",
    );
    check(&sketch.group("lines", &["lot.n"]), "shed > lot.n: 33 m; line lot.n, role rear");
}

#[test]
fn beyond_the_line_the_yard_is_negative() {
    let sketch = with_shed(-0.5, 5.0).on("lot").subjects(&["shed"]).group("lines", &["lot.w"]);
    check(&sketch, "shed > lot.w: -0.5 m; line lot.w, role side");
}

#[test]
fn the_street_is_told_where_it_is_known() {
    let sketch = Sketch::new()
        .feature("lot", "lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("edge", "lot-line", Rect::metres(0.0, 0.0, 20.0, 0.0))
        .on("lot")
        .stating("role", "front")
        .stating("street", "Alder Row")
        .feature("porch", "porch", Rect::metres(5.0, 6.0, 9.0, 8.0))
        .on("lot")
        .subjects(&["porch"])
        .group("lines", &["edge"]);
    check(&sketch, "porch > edge: 6 m; line edge, role front, street Alder Row");
}

#[test]
fn to_the_eave_takes_the_stated_eave_off() {
    let sketch = with_shed(1.0, 5.0)
        .on("lot")
        .stating("eave", Length::from_metres(0.4))
        .feature("house", "dwelling", Rect::metres(5.0, 20.0, 15.0, 30.0))
        .on("lot")
        .stating("eave", Length::from_metres(0.6))
        .subjects(&["shed", "house"])
        .group("lines", &["lot.w", "lot.n"])
        .parameter("to_part", "eave");
    check(
        &sketch,
        "shed > lot.n: 32.6 m; line lot.n, role rear\nshed > lot.w: 0.6 m; line lot.w, role side\n\
         house > lot.n: 9.4 m; line lot.n, role rear\nhouse > lot.w: 4.4 m; line lot.w, role side",
    );
}

#[test]
fn an_eave_not_stated_is_lacking_and_the_others_still_get_theirs() {
    let sketch = with_shed(1.0, 5.0)
        .on("lot")
        .feature("house", "dwelling", Rect::metres(5.0, 20.0, 15.0, 30.0))
        .on("lot")
        .stating("eave", Length::from_metres(0.6))
        .subjects(&["shed", "house"])
        .group("lines", &["lot.w"])
        .parameter("to_part", "eave");
    check(&sketch, "shed: lacking eave of shed\nhouse > lot.w: 4.4 m; line lot.w, role side");
}

#[test]
fn only_the_lines_of_its_own_lot_count() {
    let sketch = with_shed(1.0, 5.0)
        .on("lot")
        .lot("next", Rect::metres(20.0, 0.0, 40.0, 40.0))
        .subjects(&["shed"])
        .group("lines", &["lot.w", "next.w"]);
    check(&sketch, "shed > lot.w: 1 m; line lot.w, role side");
}

#[test]
fn without_a_lot_or_a_line_it_says_what_is_lacking() {
    check(&with_shed(1.0, 5.0).subjects(&["shed"]).group("lines", &["lot.w"]), "shed: lacking lot of shed");
    let no_line = with_shed(1.0, 5.0).on("lot").subjects(&["shed"]).group("lines", &[]);
    check(&no_line, "shed > lot: lacking line of lot to measure shed to");
    check(
        &no_line.parameter("if_none", "not_applicable"),
        "shed > lot: not applicable, lot has no line of the kind asked about",
    );
}

#[test]
fn what_is_not_drawn_is_lacking() {
    let sketch = lot().undrawn("shed", "shed").on("lot").subjects(&["shed"]).group("lines", &["lot.w"]);
    check(&sketch, "shed > lot.w: lacking; line lot.w, role side");
}

#[test]
fn a_wrong_parameter_is_refused_with_what_it_may_be() {
    let sketch = with_shed(1.0, 5.0).on("lot").subjects(&["shed"]).group("lines", &["lot.w"]);
    check(
        &sketch.clone().parameter("to_part", "roof"),
        "refused: parameter `to_part` is \"roof\"; it may be \"wall\" or \"eave\"",
    );
    check(
        &sketch.parameter("if_none", Ratio::from_percent(5.0)),
        "refused: parameter `if_none` is a quantity; it may be \"lacking\" or \"not_applicable\"",
    );
}
