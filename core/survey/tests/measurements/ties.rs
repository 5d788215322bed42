//! Ties, and which of two places they mean.

use crate::support::Of::{X, Y};
use crate::support::{HEAD, check, check_spread, check_whole};

fn tie(from: &str, rest: &str) -> String {
    format!("[[tie]]\npoint = 'p'\nfrom = {{ {from} }}\n{rest}\n")
}

/// Square to each other from two points 10 apart.
const LEVEL: &str = "a = 7.0710678118654755, b = 7.0710678118654755";
const UPRIGHT: &str = "a = 7.0710678118654755, d = 7.0710678118654755";

#[test]
fn sides() {
    for (from, side, x, y) in [
        (LEVEL, "side = 'up'", 5.0, 5.0),
        (LEVEL, "side = 'down'", 5.0, -5.0),
        (UPRIGHT, "side = 'left on the sheet'", -5.0, 5.0),
        (UPRIGHT, "side = 'right on the sheet'", 5.0, 5.0),
        (LEVEL, "side = 'left of a-b'", 5.0, 5.0),
        (LEVEL, "side = 'right of a-b'", 5.0, -5.0),
        (LEVEL, "side = 'left of b-a'", 5.0, -5.0),
        (UPRIGHT, "side = 'left of a-d'", -5.0, 5.0),
        (LEVEL, "near = [4, 3]", 5.0, 5.0),
        (LEVEL, "near = [4, -1]", 5.0, -5.0),
        (LEVEL, "[points.p]\nnear = [5, 4]", 5.0, 5.0),
        (LEVEL, "[points.p]\nnear = [5, -4]", 5.0, -5.0),
        // A third tie tells by itself, and outweighs a rough position.
        ("a = 7.0710678118654755, b = 7.0710678118654755, d = 7.0710678118654755", "", 5.0, 5.0),
    ] {
        check(&tie(from, side), &[("p", x, y)], &[]);
    }
}

#[test]
fn sides_by_the_compass() {
    for (north, from, side, x, y) in [
        ("up", LEVEL, "north", 5.0, 5.0),
        ("up", LEVEL, "south", 5.0, -5.0),
        ("up", UPRIGHT, "east", 5.0, 5.0),
        ("up", UPRIGHT, "nw", -5.0, 5.0),
        // North to the right of the sheet.
        ("90 deg clockwise of up", UPRIGHT, "north", 5.0, 5.0),
        ("90 deg clockwise of up", LEVEL, "east", 5.0, -5.0),
        ("90 deg anticlockwise of up", LEVEL, "east", 5.0, 5.0),
        ("180 deg clockwise of up", LEVEL, "north", 5.0, -5.0),
    ] {
        let head = HEAD.replace("north = \"up\"", &format!("north = \'{north}\'"));
        check_whole(&format!("{head}{}", tie(from, &format!("side = '{side}'"))), &[("p", x, y)], &[]);
    }
}

#[test]
fn a_side_by_the_compass_without_north() {
    let head = HEAD.replace("north = \"up\"\n", "");
    let text = format!("{head}{}", tie(LEVEL, "side = 'north'"));
    check_whole(&text, &[("p", 5.0, 5.0)], &["data::north-assumed"]);
    check_whole(&text.replace("'north'", "'up'"), &[("p", 5.0, 5.0)], &[]);
}

#[test]
fn two_places_and_nothing_said() {
    check(&tie(LEVEL, ""), &[], &["data::two-places-fit"]);
}

#[test]
fn a_mirror_image_inside_a_building_is_put_aside() {
    let house = "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\nby = 'design'\n\
                 box = { corner = 'sw', at = [0, 0], size = ['10 m', '8 m'] }\n";
    let corners = |side: &str| tie("house.sw = 7.0710678118654755, house.se = 7.0710678118654755", side);
    check(&format!("{house}{}", corners("")), &[("p", 5.0, -5.0)], &["data::mirror-put-aside"]);
    let outline = "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\nby = 'design'\n\
                   outline = [[0, 0], [10, 0], [10, 8], [0, 8]]\nnames = ['sw', 'se', 'ne', 'nw']\n";
    check(&format!("{outline}{}", corners("")), &[("p", 5.0, -5.0)], &["data::mirror-put-aside"]);
    // Trees stand in beds, and mostly inside lots.
    let bed = house.replace("dwelling", "bed");
    check(&format!("{bed}{}", corners("")), &[], &["data::two-places-fit"]);
    let lot = "[lot]\ncorners = [[0, 0], [10, 0], [10, 8], [0, 8]]\nnames = ['sw', 'se', 'ne', 'nw']\nby = 'design'\n";
    check(&format!("{lot}{}", corners("").replace("house.", "lot.")), &[], &["data::two-places-fit"]);
    // Where it is said that it stands there, it does.
    check(&format!("{house}{}", corners("near = [5, 4]")), &[("p", 5.0, 5.0)], &[]);
}

#[test]
fn spreads_of_two_ties() {
    // P(5, h) over a base of 10: the crossing angle says how far the error of one tape grows.
    for (h, sx, sy, codes) in [
        (5.0, 0.02, 0.02, &[][..]),
        (0.2, 0.014_153_44, 0.353_836_12, &["data::weak-crossing"]),
        (200.0, 0.565_862_17, 0.014_146_55, &["data::weak-crossing"]),
    ] {
        let length = libm::hypot(5.0, h);
        let text = tie(&format!("a = {length}, b = {length}"), "side = 'up'");
        check(&text, &[("p", 5.0, h)], codes);
        check_spread(&text, &[(X("p"), sx), (Y("p"), sy)]);
    }
}

#[test]
fn crossings_of_thirty_degrees_are_good_enough() {
    for (degrees, codes) in [
        (31.0_f64, &[][..]),
        (29.0, &["data::weak-crossing"]),
        (149.0, &[]),
        (151.0, &["data::weak-crossing"]),
    ] {
        // Under an apex of this angle over the base of 10.
        let half = degrees.to_radians() / 2.0;
        let length = 5.0 / libm::sin(half);
        check(
            &tie(&format!("a = {length}, b = {length}"), "side = 'up'"),
            &[("p", 5.0, 5.0 / libm::tan(half))],
            codes,
        );
    }
}

#[test]
fn ties_from_points_that_ties_locate() {
    let text = format!(
        "{}[[tie]]\npoint = 'q'\nfrom = {{ p = 5, b = {} }}\nside = 'up'\n",
        tie(LEVEL, "side = 'up'"),
        libm::hypot(2.0, 9.0)
    );
    check(&text, &[("p", 5.0, 5.0), ("q", 8.0, 9.0)], &[]);
}
