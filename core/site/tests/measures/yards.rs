//! Yards to the lines of a lot.

use groundrule_plan::Role;
use groundrule_site::Mark;

use crate::sheet::{Built, Sheet, close, metres};

const LOT: [[f64; 2]; 4] = [[0.0, 0.0], [60.0, 0.0], [75.0, 100.0], [0.0, 110.0]];

fn on_skew_lot(draw: impl FnOnce(&mut Sheet)) -> Built {
    let mut sheet = Sheet::new();
    let roles = [Role::Front, Role::Side, Role::Rear, Role::Side].map(Some);
    sheet.lot("lot", &LOT, &roles, 0.0);
    draw(&mut sheet);
    sheet.build()
}

fn check(ring: &[[f64; 2]], line: &str, expected: f64) {
    let built = on_skew_lot(|sheet| {
        sheet.outline("house", ring, 0.0);
    });
    close(line, built.yard("house", line).value().si(), expected, 1e-12);
}

/// Closed forms, confirmed with Shapely 2.2.0 on GEOS 3.14.1.
#[test]
fn a_house_on_a_skew_lot() {
    let house = [[12.0, 30.0], [45.0, 30.0], [45.0, 62.0], [12.0, 62.0]];
    check(&house, "lot.a-b", 30.0);
    check(&house, "lot.b-c", 1950.0 / 10225.0_f64.sqrt());
    check(&house, "lot.c-d", 3150.0 / 5725.0_f64.sqrt());
    check(&house, "lot.d-a", 12.0);
}

#[test]
fn the_segment_counts_and_not_the_line_it_lies_on() {
    // Left of the front line's end, on the lot by its skew side: the nearest point is the corner (60, 0).
    check(&[[63.0, 40.0], [64.0, 40.0], [64.0, 41.0]], "lot.a-b", 1609.0_f64.sqrt());
}

#[test]
fn reaching_beyond_a_line() {
    check(&[[10.0, -2.0], [20.0, -2.0], [20.0, 5.0], [10.0, 5.0]], "lot.a-b", -2.0);
    check(&[[-1.5, 20.0], [4.0, 20.0], [4.0, 30.0], [-1.5, 30.0]], "lot.d-a", -1.5);
    // Wholly beyond: its far side is the measure.
    check(&[[10.0, -7.0], [20.0, -7.0], [20.0, -2.0], [10.0, -2.0]], "lot.a-b", -7.0);
    // A line it does not reach stays a plain distance.
    check(&[[10.0, -2.0], [20.0, -2.0], [20.0, 5.0], [10.0, 5.0]], "lot.d-a", 10.0);
}

#[test]
fn a_corner_at_a_corner_reaches_beyond_each_line_by_its_own_amount() {
    let porch = [[-2.0, -0.5], [5.0, -0.5], [5.0, 5.0], [-2.0, 5.0]];
    check(&porch, "lot.a-b", -0.5);
    check(&porch, "lot.d-a", -2.0);
}

#[test]
fn on_the_line_there_is_no_yard_and_its_spread_is_the_lines() {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &LOT, &[], 0.0);
    sheet.outline("wall", &[[10.0, 0.0], [20.0, 3.0], [10.0, 3.0]], 0.1);
    let built = sheet.build();
    let yard = built.yard("wall", "lot.a-b");
    close("value", yard.value().si(), 0.0, 1e-15);
    close("spread", yard.spread().si(), 0.1, 1e-12);
}

#[test]
fn the_spread_is_the_same_on_both_sides_of_the_line() {
    for height in [-0.3, -1e-9, 0.0, 1e-9, 0.3] {
        let mut sheet = Sheet::new();
        sheet.lot("lot", &LOT, &[], 0.05);
        sheet.outline("shed", &[[10.0, height], [16.0, height], [16.0, 6.0], [10.0, 6.0]], 0.1);
        let built = sheet.build();
        let yard = built.yard("shed", "lot.a-b");
        close("value", yard.value().si(), height, 1e-12);
        assert!((0.1..0.12).contains(&yard.spread().si()), "{height}: {:?}", yard.spread());
    }
}

#[test]
fn discs_and_wide_lines() {
    let built = on_skew_lot(|sheet| {
        sheet.disc("pool", [10.0, 20.0], 4.0, 0.0);
        sheet.disc("oak", [3.0, 60.0], 5.0, 0.0);
        sheet.disc("elm", [-1.0, 70.0], 2.0, 0.0);
        sheet.line("walk", &[[30.0, 1.0], [30.0, 20.0]], 1.2, 0.0);
        sheet.line("drive", &[[50.0, -3.0], [50.0, 20.0]], 3.0, 0.0);
        sheet.spot("post", [40.0, 0.25], 0.0);
    });
    for (feature, line, expected) in [
        ("pool", "lot.d-a", 6.0),
        ("oak", "lot.d-a", -2.0),
        ("elm", "lot.d-a", -3.0),
        ("walk", "lot.a-b", 1.0),
        ("drive", "lot.a-b", -3.0),
        ("post", "lot.a-b", 0.25),
    ] {
        close(feature, built.yard(feature, line).value().si(), expected, 1e-12);
    }
}

#[test]
fn a_yard_is_drawn_from_the_feature_to_the_line() {
    let built = on_skew_lot(|sheet| {
        sheet.disc("pool", [10.0, 20.0], 4.0, 0.0);
    });
    let yard = built.yard("pool", "lot.d-a");
    let [Mark::Span(from, to)] = yard.marks.as_slice() else { panic!("{:?}", yard.marks) };
    assert_eq!((from.x, from.y, to.x, to.y), (metres(6.0), metres(20.0), metres(0.0), metres(20.0)));
}
