//! How deep two features that overlap reach into each other.

use crate::sheet::{Sheet, close};

const STRIP: [[f64; 2]; 4] = [[0.0, 0.0], [40.0, 0.0], [40.0, 10.0], [0.0, 10.0]];

fn check(ring: &[[f64; 2]], expected: f64) {
    let mut sheet = Sheet::new();
    sheet.outline("easement", &STRIP, 0.0);
    sheet.outline("building", ring, 0.0);
    let built = sheet.build();
    close("depth", built.clearance("building", "easement").value().si(), expected, 1e-12);
    close("the other way", built.clearance("easement", "building").value().si(), expected, 1e-12);
    close("distance", built.distance("building", "easement").value().si(), expected.max(0.0), 1e-12);
}

#[test]
fn the_least_shift_that_parts_them() {
    check(&[[5.0, 9.0], [11.0, 9.0], [11.0, 15.0], [5.0, 15.0]], -1.0);
    check(&[[5.0, 2.0], [11.0, 2.0], [11.0, 15.0], [5.0, 15.0]], -8.0);
    // Right across: out by the nearer end of the strip.
    check(&[[5.0, -3.0], [11.0, -3.0], [11.0, 15.0], [5.0, 15.0]], -11.0);
    // Wholly inside: back over the near edge, its own depth as well.
    check(&[[5.0, 6.0], [11.0, 6.0], [11.0, 9.0], [5.0, 9.0]], -4.0);
    // At the end of the strip the short way is along it.
    check(&[[39.5, 2.0], [45.0, 2.0], [45.0, 9.0], [39.5, 9.0]], -0.5);
}

#[test]
fn an_l_counts_by_its_parts() {
    // One wing reaches 2 into the strip, the other stays 3 off it.
    check(&[[5.0, 8.0], [9.0, 8.0], [9.0, 13.0], [20.0, 13.0], [20.0, 20.0], [5.0, 20.0]], -2.0);
    // In the notch it touches nothing.
    check(&[[-5.0, -5.0], [45.0, -5.0], [45.0, -1.0], [-2.0, -1.0], [-2.0, 15.0], [-5.0, 15.0]], 1.0);
}

#[test]
fn something_well_inside_an_l_is_at_least_as_deep_as_its_way_to_the_edge() {
    let mut sheet = Sheet::new();
    sheet.outline(
        "yard",
        &[[0.0, 0.0], [40.0, 0.0], [40.0, 20.0], [20.0, 20.0], [20.0, 40.0], [0.0, 40.0]],
        0.0,
    );
    sheet.outline("shed", &[[9.0, 9.0], [11.0, 9.0], [11.0, 11.0], [9.0, 11.0]], 0.0);
    sheet.spot("post", [10.0, 10.0], 0.0);
    let built = sheet.build();
    let depth = -built.clearance("shed", "yard").value().si();
    assert!((9.0..=11.0 + 1e-12).contains(&depth), "{depth}");
    let depth = -built.clearance("post", "yard").value().si();
    close("post", depth, 10.0, 1e-12);
}

#[test]
fn discs() {
    let mut sheet = Sheet::new();
    sheet.outline("easement", &STRIP, 0.0);
    for (name, at, radius) in [
        ("clear", [20.0, 14.0], 3.0),
        ("brushing", [20.0, 12.0], 3.0),
        ("half in", [20.0, 10.0], 3.0),
        ("mostly in", [20.0, 9.0], 3.0),
        ("inside", [20.0, 4.0], 3.0),
        ("at the corner", [43.0, 14.0], 6.0),
    ] {
        sheet.disc(name, at, radius, 0.0);
    }
    let built = sheet.build();
    for (name, expected) in [
        ("clear", 1.0),
        ("brushing", -1.0),
        ("half in", -3.0),
        ("mostly in", -4.0),
        ("inside", -7.0),
        ("at the corner", -1.0),
    ] {
        close(name, built.clearance(name, "easement").value().si(), expected, 1e-12);
    }
    close("in one place", built.clearance("inside", "inside").value().si(), -6.0, 1e-12);
}

#[test]
fn no_jump_where_they_touch() {
    for gap in [-1e-3, -1e-6, -1e-9, 0.0, 1e-9, 1e-6, 1e-3] {
        check(&[[5.0, 10.0 + gap], [11.0, 10.0 + gap], [11.0, 15.0], [5.0, 15.0]], gap);
        check(&[[5.0, 15.0], [8.0, 10.0 + gap], [11.0, 15.0]], gap);
        let wing =
            [[5.0, 10.0 + gap], [9.0, 10.0 + gap], [9.0, 13.0], [20.0, 13.0], [20.0, 20.0], [5.0, 20.0]];
        check(&wing, gap);
    }
}

#[test]
fn a_certain_overlap_has_a_certain_distance_of_zero() {
    let spread = |reach: f64| {
        let mut sheet = Sheet::new();
        sheet.outline("easement", &STRIP, 0.1);
        sheet.outline("building", &[[5.0, 10.0 - reach], [11.0, 15.0], [5.0, 15.0]], 0.1);
        let built = sheet.build();
        let distance = built.distance("building", "easement");
        close("distance", distance.value().si(), 0.0, 0.0);
        distance.spread().si()
    };
    close("deep", spread(3.0), 0.0, 0.0);
    assert!(spread(0.05) > 0.1, "it may as well stand clear");
}
