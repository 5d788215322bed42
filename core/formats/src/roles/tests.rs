//! Roles on lots small enough to judge by eye. South is down; the definition is at the head of the module.

use super::*;

type Ring = &'static [(f64, f64)];

fn positions(places: Ring) -> Vec<Position> {
    let at = |&(x, y): &(f64, f64)| Position { x: Length::from_metres(x), y: Length::from_metres(y) };
    places.iter().map(at).collect()
}

fn proposal(lot: Ring, others: &[Ring], streets: &[Ring]) -> Proposal {
    let lots: Vec<Vec<Position>> = std::iter::once(&lot).chain(others).map(|ring| positions(ring)).collect();
    let streets: Vec<Street> =
        streets.iter().map(|path| Street { name: None, path: positions(path) }).collect();
    propose(&lots, &streets, Length::from_feet(80.0)).remove(0)
}

/// `0-1 front` for each side, in order of its first vertex.
fn words(proposal: &Proposal) -> String {
    let mut sides: Vec<&ProposedSide> = proposal.sides.iter().collect();
    sides.sort_by_key(|side| side.from);
    let word = |role: Option<Role>| match role {
        Some(Role::Front) => "front",
        Some(Role::Rear) => "rear",
        Some(Role::Side) => "side",
        Some(Role::StreetSide) => "street side",
        None => "none",
    };
    let words: Vec<String> =
        sides.iter().map(|side| format!("{}-{} {}", side.from, side.until, word(side.role))).collect();
    words.join(", ")
}

#[track_caller]
fn check(lot: Ring, others: &[Ring], streets: &[Ring], expected: &str) {
    assert_eq!(words(&proposal(lot, others, streets)), expected);
}

const LOT: Ring = &[(0.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0)];
const SOUTH: Ring = &[(-100.0, -10.0), (120.0, -10.0)];
const NORTH: Ring = &[(-100.0, 40.0), (120.0, 40.0)];
const WEST: Ring = &[(-10.0, -100.0), (-10.0, 120.0)];

#[test]
fn one_street_makes_a_front_and_a_rear() {
    check(LOT, &[], &[SOUTH], "0-1 front, 1-2 side, 2-3 rear, 3-0 side");
}

#[test]
fn a_ring_written_clockwise_is_the_same_lot() {
    let ring: Ring = &[(0.0, 30.0), (20.0, 30.0), (20.0, 0.0), (0.0, 0.0)];
    check(ring, &[], &[SOUTH], "0-1 rear, 1-2 side, 2-3 front, 3-0 side");
}

#[test]
fn the_shorter_street_side_of_a_corner_lot_is_its_front() {
    check(LOT, &[], &[SOUTH, WEST], "0-1 front, 1-2 side, 2-3 rear, 3-0 street side");
    let wide: Ring = &[(0.0, 0.0), (40.0, 0.0), (40.0, 30.0), (0.0, 30.0)];
    check(wide, &[], &[SOUTH, WEST], "0-1 street side, 1-2 rear, 2-3 side, 3-0 front");
    assert_eq!(proposal(LOT, &[], &[SOUTH, WEST]).front, Front::Corner);
}

#[test]
fn a_cut_corner_is_no_front() {
    let ring: Ring = &[(3.0, 0.0), (20.0, 0.0), (20.0, 30.0), (0.0, 30.0), (0.0, 3.0)];
    check(ring, &[], &[SOUTH, WEST], "0-1 front, 1-2 side, 2-3 rear, 3-4 street side, 4-0 street side");
}

#[test]
fn the_rear_of_a_through_lot_is_a_street_side() {
    let ring: Ring = &[(0.0, 0.0), (20.0, 0.0), (22.0, 30.0), (0.0, 30.0)];
    check(ring, &[], &[SOUTH, NORTH], "0-1 front, 1-2 side, 2-3 street side, 3-0 side");
}

#[test]
fn a_street_out_of_reach_or_behind_another_lot_is_not_fronted() {
    let far: Ring = &[(-100.0, -25.0), (120.0, -25.0)];
    check(LOT, &[], &[far], "0-1 none, 1-2 none, 2-3 none, 3-0 none");
    let between: Ring = &[(-5.0, -6.0), (25.0, -6.0), (25.0, 0.0), (-5.0, 0.0)];
    check(LOT, &[between], &[SOUTH], "0-1 none, 1-2 none, 2-3 none, 3-0 none");
    assert_eq!(proposal(LOT, &[between], &[SOUTH]).front, Front::Unknown);
    // Maps overlap by a little; that hides no street.
    let sliver: Ring = &[(-5.0, -0.3), (25.0, -0.3), (25.0, 0.1), (-5.0, 0.1)];
    check(LOT, &[sliver], &[SOUTH], "0-1 front, 1-2 side, 2-3 rear, 3-0 side");
}

#[test]
fn a_triangle_has_no_rear() {
    check(&[(0.0, 0.0), (20.0, 0.0), (10.0, 30.0)], &[], &[SOUTH], "0-1 front, 1-2 side, 2-0 side");
}

#[test]
fn edges_that_nearly_continue_each_other_are_one_side() {
    let ring: Ring = &[(0.0, 0.0), (8.0, 0.4), (20.0, 0.0), (20.0, 30.0), (11.0, 30.0), (0.0, 30.0)];
    check(ring, &[], &[SOUTH], "0-2 front, 2-3 side, 3-5 rear, 5-0 side");
    // The same ring from another vertex on.
    let ring: Ring = &[(8.0, 0.4), (20.0, 0.0), (20.0, 30.0), (11.0, 30.0), (0.0, 30.0), (0.0, 0.0)];
    check(ring, &[], &[SOUTH], "1-2 side, 2-4 rear, 4-5 side, 5-1 front");
}

#[test]
fn a_rounded_corner_is_split_between_its_streets() {
    // A quarter circle of radius 6 in chords of 15 degrees between the south and the west side.
    let ring: Ring = &[
        (6.0, 0.0),
        (20.0, 0.0),
        (20.0, 30.0),
        (0.0, 30.0),
        (0.0, 6.0),
        (0.2044, 4.4471),
        (0.8038, 3.0),
        (1.7574, 1.7574),
        (3.0, 0.8038),
        (4.4471, 0.2044),
    ];
    let found = words(&proposal(ring, &[], &[SOUTH, WEST]));
    assert_eq!(found, "1-2 side, 2-3 rear, 3-7 street side, 7-1 front");
}

#[test]
fn only_the_far_side_of_an_l_is_its_rear() {
    let ring: Ring = &[(0.0, 0.0), (30.0, 0.0), (30.0, 10.0), (15.0, 10.0), (15.0, 40.0), (0.0, 40.0)];
    check(ring, &[], &[SOUTH], "0-1 front, 1-2 side, 2-3 side, 3-4 side, 4-5 rear, 5-0 side");
}

#[test]
fn a_jog_takes_the_role_of_its_longer_neighbour() {
    let ring: Ring = &[(0.0, 0.0), (9.0, 0.0), (9.0, 0.5), (20.0, 0.5), (20.0, 30.0), (0.0, 30.0)];
    check(ring, &[], &[SOUTH], "0-1 front, 1-2 front, 2-3 front, 3-4 side, 4-5 rear, 5-0 side");
}

#[test]
fn land_a_street_runs_through_has_no_roles() {
    let road: Ring = &[(-100.0, -16.0), (120.0, -16.0), (120.0, -4.0), (-100.0, -4.0)];
    check(road, &[LOT], &[SOUTH], "0-1 none, 1-2 none, 2-3 none, 3-0 none");
    assert_eq!(proposal(road, &[LOT], &[SOUTH]).front, Front::StreetLand);
    // And does not hide the street from the lots along it beyond the sliver it overlaps them by.
    assert_eq!(proposal(LOT, &[], &[SOUTH]).front, Front::Plain);
}

#[test]
fn nothing_and_almost_nothing_do_no_harm() {
    assert!(propose(&[], &[], Length::ZERO).is_empty());
    for ring in [&[] as Ring, &[(0.0, 0.0)], &[(0.0, 0.0), (1.0, 1.0)]] {
        assert!(proposal(ring, &[], &[SOUTH]).sides.is_empty());
    }
    // A ring of no area, and a street of no length.
    let flat: Ring = &[(0.0, 0.0), (5.0, 0.0), (10.0, 0.0)];
    assert!(!proposal(flat, &[], &[&[(0.0, -1.0), (0.0, -1.0)]]).sides.is_empty());
}
