//! Which lot line each side of a building faces.

use crate::sheet::Sheet;

/// The lines the sides face, in order, by the name of each within the lot.
fn check(lot: &[[f64; 2]], building: &[[f64; 2]], expected: &[&str]) {
    let mut sheet = Sheet::new();
    sheet.lot("lot", lot, &[], 0.0);
    sheet.outline("house", building, 0.0).lot =
        Some(crate::sheet::at(groundrule_plan::Name("lot".to_owned())));
    let built = sheet.build();
    let faced: Vec<String> = built
        .site
        .facing(built.id("house"))
        .iter()
        .map(|facing| facing.line.and_then(|line| built.site.feature(line)))
        .map(|line| line.map_or("none".to_owned(), |line| line.id.0.trim_start_matches("lot.").to_owned()))
        .collect();
    assert_eq!(faced, expected);
}

const SQUARE: [[f64; 2]; 4] = [[0.0, 0.0], [60.0, 0.0], [60.0, 100.0], [0.0, 100.0]];

#[test]
fn a_plain_house_faces_all_four() {
    check(&SQUARE, &[[12.0, 30.0], [45.0, 30.0], [45.0, 62.0], [12.0, 62.0]], &["a-b", "b-c", "c-d", "d-a"]);
}

#[test]
fn so_does_one_on_a_skew_lot() {
    let lot = [[0.0, 0.0], [60.0, 0.0], [75.0, 100.0], [0.0, 110.0]];
    check(&lot, &[[12.0, 30.0], [45.0, 30.0], [45.0, 62.0], [12.0, 62.0]], &["a-b", "b-c", "c-d", "d-a"]);
}

#[test]
fn a_turned_house_faces_what_lies_straight_ahead() {
    check(&SQUARE, &[[30.0, 30.0], [40.0, 40.0], [30.0, 50.0], [20.0, 40.0]], &["b-c", "b-c", "d-a", "d-a"]);
}

#[test]
fn the_inner_sides_of_an_l_face_past_the_other_wing() {
    let house = [[10.0, 30.0], [40.0, 30.0], [40.0, 40.0], [20.0, 40.0], [20.0, 60.0], [10.0, 60.0]];
    check(&SQUARE, &house, &["a-b", "b-c", "c-d", "b-c", "c-d", "d-a"]);
}

#[test]
fn a_side_beyond_a_line_faces_the_line_it_passed() {
    check(&SQUARE, &[[12.0, -3.0], [45.0, -3.0], [45.0, 62.0], [12.0, 62.0]], &["a-b", "b-c", "c-d", "d-a"]);
}

#[test]
fn without_a_lot_nothing_is_faced() {
    let mut sheet = Sheet::new();
    sheet.outline("house", &SQUARE, 0.0);
    sheet.disc("oak", [5.0, 5.0], 2.0, 0.0);
    let built = sheet.build();
    let lines: Vec<_> = built.site.facing(built.id("house")).into_iter().map(|facing| facing.line).collect();
    assert_eq!(lines, [None; 4]);
    assert!(built.site.facing(built.id("oak")).is_empty());
}
