//! Input with something wrong: named and placed, and a surface all the same.

use groundrule_terrain::{End, Input, Rim, Sink, Sparse, Tin, Trouble, Vertex, VertexId};

use crate::helper::{Draw, metres, near, place, spot, spots, surface, with_troubles};

/// A square of 10 m at level 0, corners 0 to 3 anticlockwise.
fn square() -> Vec<Vertex> {
    spots(&[[0.0, 0.0, 0.0], [10.0, 0.0, 0.0], [10.0, 10.0, 0.0], [0.0, 10.0, 0.0]])
}

fn with(more: &[[f64; 3]]) -> Vec<Vertex> {
    square().into_iter().chain(spots(more)).collect()
}

fn check_none(vertices: Vec<Vertex>, expected: Sparse) {
    let input = Input { vertices, ..Input::default() };
    assert_eq!(Tin::build(&input).map(|_| ()), Err(expected));
}

#[test]
fn too_little_to_say() {
    check_none(vec![], Sparse::TooFew(0));
    check_none(spots(&[[0.0, 0.0, 1.0], [1.0, 0.0, 1.0], [1.0, 0.000_5, 1.0]]), Sparse::TooFew(2));
    check_none(spots(&[[0.0, 0.0, 1.0], [1.0, 1.0, 1.0], [2.0, 2.0, 3.0]]), Sparse::Straight);
    check_none(spots(&[[0.0, 0.0, 1.0], [1.0, 1.0, 1.0], [2.0, 2.000_5, 3.0]]), Sparse::Straight);
    check_none(spots(&[[0.0, 0.0, 1.0], [1.0, f64::NAN, 1.0], [2.0, 2.0, 3.0]]), Sparse::NotFinite(1));
    check_none(spots(&[[0.0, 0.0, 1.0], [1.0, 5.0, 1.0], [2.0, 2.0, f64::INFINITY]]), Sparse::NotFinite(2));
    check_none(spots(&[[0.0, 0.0, 1.0], [1e300, 5.0, 1.0], [2.0, 2.0, 1.0]]), Sparse::NotFinite(1));
}

fn check_troubles(vertices: Vec<Vertex>, lines: &[&[u32]], holes: &[&[u32]], expected: &[Trouble]) {
    let (tin, troubles) = with_troubles(vertices, lines, holes);
    assert_eq!(troubles, expected);
    assert!(tin.facets() > 0);
}

#[test]
fn troubles_are_told_and_got_round() {
    let twice = Trouble::Twice { first: 4, second: 5 };
    check_troubles(with(&[[5.0, 5.0, 1.0], [5.0, 5.000_9, 2.0], [5.0, 5.0, 1.0]]), &[], &[], &[twice]);
    let cross =
        |x, y, step| Trouble::Crossing { first: (0, 0), second: (1, 0), at: place(x, y), step: metres(step) };
    check_troubles(
        with(&[[2.0, 5.0, 1.0], [8.0, 5.0, 1.0], [5.0, 2.0, 1.5], [5.0, 8.0, 1.5]]),
        &[&[4, 5], &[6, 7]],
        &[],
        &[cross(5.0, 5.0, 0.5)],
    );
    check_troubles(
        square(),
        &[&[0, 9, 2]],
        &[&[0, 1], &[0, 1, 7, 2]],
        &[
            Trouble::Unknown { line: 0, vertex: 9 },
            Trouble::NoRing { hole: 0 },
            Trouble::Unknown { line: 2, vertex: 7 },
        ],
    );
    let ring = [[4.0, 4.0, 0.0], [6.0, 4.0, 0.0], [6.0, 6.0, 0.0], [4.0, 6.0, 0.0], [5.0, 5.0, 9.0]];
    let inside = Trouble::InHole { vertex: 8, hole: 0 };
    check_troubles(with(&ring), &[], &[&[4, 5, 6, 7]], &[inside]);
    let (tin, _) = with_troubles(with(&ring), &[], &[&[4, 5, 6, 7]]);
    assert!(!tin.is_used(VertexId(8)));
    assert_eq!(tin.level(place(5.0, 5.0)), None);
    near("area", tin.plan_area().square_metres(), 96.0);
    let (_, troubles) = with_troubles(with(&ring[..4]), &[], &[&[4, 6, 5, 7]]);
    let crosses_itself = |t: &&Trouble| matches!(t, Trouble::RingCrossesItself { hole: 0 });
    assert_eq!(troubles.iter().filter(crosses_itself).count(), 1);
}

#[test]
fn a_vertex_made_at_a_crossing_follows_the_first_line() {
    let vertices = with(&[[2.0, 5.0, 1.0], [8.0, 5.0, 4.0], [4.0, 2.0, 7.0], [4.0, 8.0, 7.0]]);
    let (tin, _) = with_troubles(vertices, &[&[4, 5], &[6, 7]], &[]);
    assert_eq!(tin.vertices().len(), 9);
    let [(a, first), (b, second)] = tin.made_of(VertexId(8)).expect("made");
    assert_eq!((a, b), (VertexId(4), VertexId(5)));
    near("first", first, 2.0 / 3.0);
    near("second", second, 1.0 / 3.0);
    near("level", tin.vertices()[8].level.metres(), 2.0);
    assert_eq!(tin.made_of(VertexId(7)), None);
    // With other levels it follows them.
    let mut levels: Vec<_> = tin.vertices()[..8].iter().map(|v| v.level).collect();
    levels[4] = metres(4.0);
    near("moved", tin.with_levels(&levels).vertices()[8].level.metres(), 4.0);
}

#[test]
fn lines_pass_through_vertices_they_touch() {
    // A line along which a spot lies half a millimetre off: no sliver stands between them.
    let vertices = with(&[[2.0, 5.0, 0.0], [8.0, 5.0, 0.0], [5.0, 5.000_5, 3.0]]);
    let tin = surface(vertices, &[&[4, 5]], &[]);
    let (_, _, greatest) = tin.steepness();
    assert!(greatest.fraction() < 2.0, "{greatest:?}");
    // The same at the outer edge, where no line is.
    let tin = surface(with(&[[5.0, 0.000_5, 3.0]]), &[], &[]);
    assert!(tin.steepness().2.fraction() < 2.0);
    // A place in the strip that is no ground any more still has the level beside it.
    assert!(tin.level(place(2.0, 0.0)).is_some());
}

#[test]
fn holes_are_rims_and_water_does_not_leave_over_them() {
    // Ground that falls from all sides to a house in the middle.
    let ring = [[4.0, 4.0, -1.0], [6.0, 4.0, -1.0], [6.0, 6.0, -1.0], [4.0, 6.0, -1.2]];
    let tin = surface(with(&ring), &[], &[&[4, 5, 6, 7]]);
    let edges = tin.facet_ids().flat_map(|f| [0, 1, 2].map(|k| tin.rim(f, k)));
    assert_eq!(edges.filter(|rim| *rim == Some(Rim::Hole(0))).count(), 4);
    assert_eq!(tin.trace(place(5.0, 1.0), &[]).expect("ground").end, End::Hole(0));
    let hollows = tin.hollows(&[]);
    assert_eq!(hollows.len(), 1);
    near("area", hollows[0].area.square_metres(), 96.0);
    // The edge of the water goes once round outside and once round the house.
    assert_eq!(hollows[0].outlines.iter().map(Vec::len).collect::<Vec<_>>(), [4, 4]);
    let across: Vec<(f64, f64)> =
        tin.along(place(-5.0, 5.0), place(15.0, 5.0)).iter().map(|s| (s.from, s.to)).collect();
    near("enters", across[0].0, 0.25);
    near("leaves", across[across.len() - 1].1, 0.75);
    let gaps: Vec<_> = across.windows(2).filter(|w| w[1].0 - w[0].1 > 1e-9).collect();
    assert_eq!(gaps.len(), 1);
    near("house", gaps[0][1].0 - gaps[0][0].1, 0.1);
    assert_eq!(tin.profile(&[place(-5.0, 5.0), place(15.0, 5.0)]).len(), 2);
}

#[test]
fn water_that_runs_along_a_wall_does_not_reach_it() {
    // Ground that falls along a house, far off and in feet, so that nothing is exactly parallel.
    let foot = |v: f64| v * 0.3048;
    for offset in [0.0, 1e6] {
        let at = |x: f64, y: f64| [foot(x) + offset, foot(y) + offset, foot(100.0 - 0.02 * x)];
        let ring = [at(10.0, 10.0), at(30.0, 10.0), at(30.0, 30.0), at(10.0, 30.0)];
        let corners = [at(0.0, 0.0), at(41.0, 0.0), at(41.0, 43.0), at(0.0, 43.0), at(20.0, 3.0)];
        let all: Vec<[f64; 3]> = ring.into_iter().chain(corners).collect();
        let tin = surface(spots(&all), &[], &[&[0, 1, 2, 3]]);
        let end = |x: f64, y: f64| {
            let [x, y, _] = at(x, y);
            tin.trace(place(x, y), &[]).expect("ground").end
        };
        for x in [10.0, 13.3, 20.0, 29.9] {
            assert_eq!(end(x, 10.0), End::Outer, "at {x}");
            assert_eq!(end(x, 30.0), End::Outer, "at {x}");
        }
        assert_eq!(end(5.0, 20.0), End::Hole(0));
        assert_eq!(end(30.0, 20.0), End::Outer);
    }
}

#[test]
fn level_ground_has_no_hollow_and_water_stands_on_it() {
    let tin = surface(with(&[[5.0, 5.0, 0.0], [2.0, 7.0, 0.0]]), &[], &[]);
    assert_eq!(tin.hollows(&[]), []);
    assert!(matches!(tin.trace(place(3.0, 3.0), &[]).expect("ground").end, End::Flat(_)));
    assert_eq!(tin.contours(metres(0.1), metres(0.0)), []);
    // Followed on, it goes to the nearest way off, which may be a drain.
    let drain = [Sink::At { vertex: VertexId(4) }];
    let ends = |sinks: &[Sink]| -> Vec<End> {
        tin.trace_over(place(4.9, 5.0), sinks, &[]).expect("ground").iter().map(|c| c.end).collect()
    };
    assert!(matches!(ends(&[])[..], [End::Flat(_), End::Outer]));
    assert!(matches!(ends(&drain)[..], [End::Flat(_), End::Sink(0)]));
}

#[test]
fn sinks_take_up_courses() {
    let tin = surface(with(&[[5.0, 5.0, -1.0]]), &[], &[]);
    let drain = Sink::At { vertex: VertexId(4) };
    let ring = vec![place(4.0, 4.0), place(6.0, 4.0), place(6.0, 6.0), place(4.0, 6.0)];
    let bed = Sink::Inside { ring };
    let end = |x, y, sinks: &[Sink]| tin.trace(place(x, y), sinks).expect("ground").end;
    assert_eq!(end(1.0, 5.0, &[]), End::Pit(VertexId(4)));
    assert_eq!(end(1.0, 5.0, std::slice::from_ref(&drain)), End::Sink(0));
    assert_eq!(end(1.0, 5.0, &[drain, bed.clone()]), End::Sink(1));
    assert_eq!(end(5.0, 4.5, std::slice::from_ref(&bed)), End::Sink(0));
    let course = tin.trace(place(1.0, 5.0), &[bed]).expect("ground");
    near("entry", course.places[course.places.len() - 1].0.x.metres(), 4.0);
    assert_eq!(tin.trace(place(-1.0, 5.0), &[]), None);
}

#[test]
fn far_coordinates_change_nothing() {
    let mut draw = Draw::new(5);
    let near_by: Vec<[f64; 3]> =
        (0..200).map(|_| [draw.next() * 64.0, draw.next() * 64.0, draw.next()]).collect();
    // Whole steps of a 2^-20, so that both have the same places exactly.
    let near_by: Vec<[f64; 3]> =
        near_by.into_iter().map(|p| p.map(|v| libm::round(v * 1_048_576.0) / 1_048_576.0)).collect();
    let far: Vec<[f64; 3]> = near_by.iter().map(|[x, y, z]| [x + 4e6, y + 1e6, *z]).collect();
    let (near_by, far) = (surface(spots(&near_by), &[], &[]), surface(spots(&far), &[], &[]));
    assert_eq!(near_by.facets(), far.facets());
    for f in near_by.facet_ids() {
        assert_eq!(near_by.corners(f), far.corners(f));
        assert_eq!(near_by.gradient(f), far.gradient(f));
    }
}

#[test]
fn a_line_along_an_edge_has_one_facet_and_beside_the_rim_has_it_too() {
    let tin = surface(square(), &[&[0, 2]], &[]);
    let check = |from: [f64; 2], to: [f64; 2], expected: &[(f64, f64)]| {
        let found = tin.along(place(from[0], from[1]), place(to[0], to[1]));
        assert_eq!(found.len(), expected.len(), "{found:?}");
        for (stretch, (start, end)) in found.iter().zip(expected) {
            assert!((stretch.from - start).abs() < 1e-3 && (stretch.to - end).abs() < 1e-3, "{stretch:?}");
        }
    };
    check([0.0, 0.0], [10.0, 10.0], &[(0.0, 1.0)]);
    check([0.0, 0.0], [10.0, 0.0], &[(0.0, 1.0)]);
    check([0.0, -0.000_5], [10.0, -0.000_5], &[(0.0, 1.0)]);
    check([0.0, -0.1], [10.0, -0.1], &[]);
    check([5.0, -5.0], [5.0, 15.0], &[(0.25, 0.5), (0.5, 0.75)]);
    check([3.0, 3.0], [3.0, 3.0], &[]);
    assert_eq!(spot(0.0, 0.0, 0.0), tin.vertices()[0]);
}
