//! Earthwork, catchments, faces, areas in rings.

use groundrule_terrain::{End, Place, Sink, Tin, VertexId, cut_and_fill};
use groundrule_units::{Area, Ratio};

use crate::helper::{near, number, oracle, place, spots, surface};

fn rectangle(from: [f64; 2], to: [f64; 2]) -> Vec<Place> {
    vec![place(from[0], from[1]), place(to[0], from[1]), place(to[0], to[1]), place(from[0], to[1])]
}

/// A square of 10 m with these levels at its corners, anticlockwise from the origin.
fn square(levels: [f64; 4]) -> Tin {
    let [a, b, c, d] = levels;
    surface(spots(&[[0.0, 0.0, a], [10.0, 0.0, b], [10.0, 10.0, c], [0.0, 10.0, d]]), &[], &[])
}

/// Cut, fill and area.
fn check_earthwork(from: &Tin, to: &Tin, within: Option<&[Place]>, expected: [f64; 3]) {
    let work = cut_and_fill(from, to, within);
    near("cut", work.cut.cubic_metres(), expected[0]);
    near("fill", work.fill.cubic_metres(), expected[1]);
    near("area", work.area.square_metres(), expected[2]);
}

#[test]
fn s8_cut_and_fill_of_a_plane_against_a_level() {
    let oracle = oracle("S8_volume");
    let existing = square([1.0, 2.0, 3.0, 2.0]);
    let design = square([number(&oracle, "design"); 4]);
    let (cut, fill) = (number(&oracle, "cut"), number(&oracle, "fill"));
    check_earthwork(&existing, &design, None, [cut, fill, 100.0]);
    check_earthwork(&design, &existing, None, [fill, cut, 100.0]);
    check_earthwork(&existing, &existing, None, [0.0, 0.0, 100.0]);
    // From the formula: the part from x = 5 on is a quarter of a metre higher on average for y below 5.
    let half = rectangle([5.0, 0.0], [10.0, 10.0]);
    let net = cut_and_fill(&existing, &design, Some(&half));
    near("net", net.cut.cubic_metres() - net.fill.cubic_metres(), 50.0 * 0.25);
    let mut other_way = half;
    other_way.reverse();
    assert_eq!(cut_and_fill(&existing, &design, Some(&other_way)).area, net.area);
    check_earthwork(&existing, &design, Some(&rectangle([20.0, 0.0], [30.0, 10.0])), [0.0; 3]);
}

#[test]
fn volumes_follow_levels() {
    let (existing, design) = (square([1.0, 2.0, 3.0, 2.0]), square([0.5; 4]));
    let work = cut_and_fill(&existing, &design, None);
    // All is cut: a corner carries the third of each of its facets.
    let sum = |areas: &[Area]| areas.iter().copied().sum::<Area>().square_metres();
    near("all corners", sum(&work.by_level.cut_by_from), 100.0);
    near("all corners of the other", sum(&work.by_level.cut_by_to), -100.0);
    near("no fill", sum(&work.by_level.fill_by_to), 0.0);
    // The same surface twice: what a corner changes is net its share, however it goes.
    let none = cut_and_fill(&existing, &existing, None);
    near("net", sum(&none.by_level.cut_by_from) - sum(&none.by_level.fill_by_from), 100.0);
}

/// The catchments by end, each to within a twentieth of the whole.
fn check_catchments(tin: &Tin, sinks: &[Sink], within: Option<&[Place]>, expected: &[(End, f64)]) {
    let found = tin.catchments(sinks, within);
    assert_eq!(
        found.iter().map(|f| f.0).collect::<Vec<_>>(),
        expected.iter().map(|e| e.0).collect::<Vec<_>>()
    );
    let whole: f64 = expected.iter().map(|e| e.1).sum();
    near("whole", found.iter().map(|f| f.1.square_metres()).sum(), whole);
    for ((_, found), (_, expected)) in found.iter().zip(expected) {
        assert!((found.square_metres() - expected).abs() <= whole / 20.0, "{found:?} for {expected}");
    }
}

#[test]
fn catchments_part_where_the_water_parts() {
    // A plane that falls west to two beds along its edge: the water parts at y = 3.
    let plane = square([0.0, 1.0, 1.0, 0.0]);
    let beds =
        [[0.0, 3.0], [3.0, 10.0]].map(|[from, to]| Sink::Inside { ring: rectangle([0.0, from], [0.5, to]) });
    check_catchments(&plane, &beds, None, &[(End::Sink(0), 30.0), (End::Sink(1), 70.0)]);
    let yard = rectangle([4.0, 1.0], [8.0, 5.0]);
    check_catchments(&plane, &beds, Some(&yard), &[(End::Sink(0), 8.0), (End::Sink(1), 8.0)]);
    check_catchments(&plane, &[], Some(&yard), &[(End::Outer, 16.0)]);
    check_catchments(&plane, &[], Some(&yard[..2]), &[]);

    // A pit in the middle overflows off the ground, and with a drain it does not.
    let mut bowl = vec![[5.0, 5.0, -1.0]];
    bowl.extend([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [10.0, 10.0, 0.0], [0.0, 10.0, 0.0]]);
    let bowl = surface(spots(&bowl), &[], &[]);
    check_catchments(&bowl, &[], None, &[(End::Outer, 100.0)]);
    check_catchments(&bowl, &[Sink::At { vertex: VertexId(0) }], None, &[(End::Sink(0), 100.0)]);
}

#[test]
fn ground_inside_rings() {
    let tin = square([0.0; 4]);
    let check = |ring: &[Place], expected: f64| {
        let areas: Vec<_> = tin.within(ring);
        near("area", areas.iter().map(|(_, area)| area.square_metres()).sum(), expected);
    };
    check(&rectangle([2.0, 2.0], [8.0, 5.0]), 18.0);
    check(&rectangle([-2.0, -2.0], [12.0, 12.0]), 100.0);
    check(&rectangle([9.0, 9.0], [12.0, 12.0]), 1.0);
    // An L, either way round, and what is none.
    let mut ell = vec![
        place(1.0, 1.0),
        place(9.0, 1.0),
        place(9.0, 3.0),
        place(3.0, 3.0),
        place(3.0, 9.0),
        place(1.0, 9.0),
    ];
    check(&ell, 28.0);
    ell.reverse();
    check(&ell, 28.0);
    check(&ell[..2], 0.0);
    check(&[place(f64::NAN, 0.0), place(9.0, 1.0), place(9.0, 3.0)], 0.0);
}

#[test]
fn a_bank_between_two_terraces() {
    // Level for 4 m, a rise of 1 m over 2 m, level again.
    let mut at = Vec::new();
    for (x, z) in [(0.0, 0.0), (4.0, 0.0), (6.0, 1.0), (10.0, 1.0)] {
        at.extend([[x, 0.0, z], [x, 5.0, z], [x, 10.0, z]]);
    }
    let tin = surface(spots(&at), &[&[3, 4, 5], &[6, 7, 8]], &[]);
    let faces = tin.faces(Ratio::from_fraction(0.25));
    assert_eq!(faces.len(), 1);
    let face = &faces[0];
    let area: f64 = face.facets.iter().map(|f| tin.area(*f).square_metres()).sum();
    near("area", area, 20.0);
    assert_eq!((face.toe, face.crest), (VertexId(3), VertexId(6)));
    assert_eq!(face.outlines.iter().map(Vec::len).collect::<Vec<_>>(), [6]);
    let run = |x: f64, ys: [f64; 3]| vec![ys.iter().map(|y| place(x, *y)).collect::<Vec<_>>()];
    assert_eq!(face.lower_edge, run(4.0, [10.0, 5.0, 0.0]));
    assert_eq!(face.upper_edge, run(6.0, [0.0, 5.0, 10.0]));
    assert_eq!(tin.faces(Ratio::from_fraction(0.5)), []);
}

#[test]
fn a_mound_has_a_lower_edge_all_round() {
    let mut at = vec![[5.0, 5.0, 2.0]];
    at.extend([[4.0, 4.0, 0.0], [6.0, 4.0, 0.0], [6.0, 6.0, 0.0], [4.0, 6.0, 0.0]]);
    at.extend([[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [10.0, 10.0, 0.0], [0.0, 10.0, 0.0]]);
    let tin = surface(spots(&at), &[&[1, 2, 3, 4, 1]], &[]);
    let faces = tin.faces(Ratio::from_percent(50.0));
    assert_eq!(faces.len(), 1);
    assert_eq!((faces[0].toe, faces[0].crest), (VertexId(1), VertexId(0)));
    assert_eq!(faces[0].lower_edge.iter().map(Vec::len).collect::<Vec<_>>(), [5]);
    assert_eq!(faces[0].lower_edge[0][0], faces[0].lower_edge[0][4]);
    assert_eq!(faces[0].upper_edge, Vec::<Vec<Place>>::new());
}
