//! What holds for any input.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_terrain::{Course, End, Input, Place, Tin, VertexId, cut_and_fill};
use groundrule_units::Ratio;
use proptest::collection::vec;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::helper::{metres, near, place, spots};

/// So many cases, the same in every run.
fn same_every_time(cases: u32) -> ProptestConfig {
    ProptestConfig {
        cases,
        rng_seed: RngSeed::Fixed(5),
        failure_persistence: None,
        ..ProptestConfig::default()
    }
}

/// The corners of a square, so that every surface covers the same ground.
const CORNERS: [[f64; 2]; 4] = [[0.0, 0.0], [12.0, 0.0], [12.0, 12.0], [0.0, 12.0]];

/// Spots on a grid of a metre: many in line, many on one circle, some twice; few levels, many alike.
fn on_a_grid() -> impl Strategy<Value = Vec<[f64; 3]>> {
    let spot = (0_u8..=12, 0_u8..=12, 0_u8..6).prop_map(|(x, y, z)| [x, y, z].map(f64::from));
    (vec(0_u8..6, 4), vec(spot, 0..40)).prop_map(|(levels, mut more)| {
        let corners = CORNERS.iter().zip(levels).map(|([x, y], z)| [*x, *y, f64::from(z)]);
        let mut all: Vec<[f64; 3]> = corners.collect();
        all.append(&mut more);
        all
    })
}

/// Spots anywhere but at the edge, where a strip of a millimetre is no ground, with levels anyhow.
fn strewn() -> impl Strategy<Value = Vec<[f64; 3]>> {
    let spot = (0.01..11.99, 0.01..11.99, 0.0..5.0).prop_map(|(x, y, z)| [x, y, z]);
    (vec(0.0..5.0, 4), vec(spot, 0..60)).prop_map(|(levels, mut more)| {
        let corners = CORNERS.iter().zip(levels).map(|([x, y], z)| [*x, *y, z]);
        let mut all: Vec<[f64; 3]> = corners.collect();
        all.append(&mut more);
        all
    })
}

fn lines() -> impl Strategy<Value = Vec<Vec<u32>>> {
    vec(vec(0_u32..50, 0..6), 0..5)
}

fn build(at: &[[f64; 3]], lines: &[Vec<u32>], holes: &[Vec<u32>]) -> Tin {
    let input = Input { vertices: spots(at), lines: lines.to_vec(), holes: holes.to_vec() };
    Tin::build(&input).expect("four corners make a surface").0
}

/// Neighbours know each other, edges agree, corners go anticlockwise.
fn check_whole(tin: &Tin) {
    for f in tin.facet_ids() {
        assert!(tin.area(f).square_metres() > 0.0);
        let corners = tin.corners(f);
        for (k, other) in tin.neighbours(f).into_iter().enumerate() {
            assert_eq!(other.is_none(), tin.rim(f, k).is_some());
            let Some(other) = other else { continue };
            let back = tin.neighbours(other).iter().position(|n| *n == Some(f)).expect("knows it too");
            let edge = [tin.corners(other)[(back + 1) % 3], tin.corners(other)[back]];
            assert_eq!(edge, [corners[k], corners[(k + 1) % 3]]);
        }
    }
    for (v, vertex) in (0..).map(VertexId).zip(tin.vertices()) {
        if tin.is_used(v) {
            assert_eq!(tin.level(vertex.at), Some(vertex.level));
        }
    }
}

/// The level to which water rises at each vertex before it finds a way out, by trying the lowest way first.
fn flooded(tin: &Tin) -> BTreeMap<VertexId, i64> {
    let scaled = |v: VertexId| to_whole(tin.vertices()[v.0 as usize].level.metres());
    let mut around: BTreeMap<VertexId, BTreeSet<VertexId>> = BTreeMap::new();
    let mut queue = BTreeSet::new();
    for f in tin.facet_ids() {
        let corners = tin.corners(f);
        for k in 0..3 {
            let (a, b) = (corners[k], corners[(k + 1) % 3]);
            around.entry(a).or_default().insert(b);
            around.entry(b).or_default().insert(a);
            if tin.neighbours(f)[k].is_none() {
                queue.extend([(scaled(a), a), (scaled(b), b)]);
            }
        }
    }
    let mut levels = BTreeMap::new();
    while let Some((level, v)) = queue.pop_first() {
        if levels.contains_key(&v) {
            continue;
        }
        levels.insert(v, level);
        queue.extend(around[&v].iter().map(|u| (level.max(scaled(*u)), *u)));
    }
    levels
}

/// Levels as whole millionths, which order like them.
#[allow(clippy::cast_possible_truncation, reason = "levels of a few metres")]
fn to_whole(level: f64) -> i64 {
    libm::round(level * 1e9) as i64
}

fn check_hollows(tin: &Tin) {
    let hollows = tin.hollows(&[]);
    let mut flooded = flooded(tin);
    flooded.retain(|v, level| *level > to_whole(tin.vertices()[v.0 as usize].level.metres()));
    let mut found = BTreeMap::new();
    for hollow in hollows.iter().filter(|h| h.parent.is_none()) {
        let spill = to_whole(tin.vertices()[hollow.spill.0 as usize].level.metres());
        found.extend(hollow.vertices.iter().map(|v| (*v, spill)));
    }
    assert_eq!(found, flooded);
    for (i, hollow) in hollows.iter().enumerate() {
        assert!(hollow.depth.metres() > 0.0 && hollow.volume.cubic_metres() > 0.0);
        let ring = |ring: &Vec<Place>| ring_area(ring);
        near("outline", hollow.outlines.iter().map(ring).sum(), hollow.area.square_metres());
        // The lowest around it is as high as its spill, which may lie farther on over level ground.
        let own = |v: &VertexId| hollow.vertices.binary_search(v).is_ok();
        let facets = hollow.vertices.iter().flat_map(|v| tin.facets_around(*v));
        let around: BTreeSet<VertexId> = facets.flat_map(|f| tin.corners(f)).filter(|v| !own(v)).collect();
        let level = |v: &VertexId| tin.vertices()[v.0 as usize].level;
        assert_eq!(around.iter().map(level).min(), Some(level(&hollow.spill)));
        if let Some(parent) = hollow.parent {
            assert!(parent > i);
            let parent = &hollows[parent];
            assert!(hollow.vertices.iter().all(|v| parent.vertices.binary_search(v).is_ok()));
            assert!(parent.volume > hollow.volume);
        }
    }
    // Filled up to their spills they are none any more.
    let mut levels: Vec<_> = tin.vertices().iter().map(|v| v.level).collect();
    for hollow in hollows.iter().filter(|h| h.parent.is_none()) {
        for v in &hollow.vertices {
            levels[v.0 as usize] = tin.vertices()[hollow.spill.0 as usize].level;
        }
    }
    assert_eq!(tin.with_levels(&levels).hollows(&[]), []);
}

fn ring_area(ring: &[Place]) -> f64 {
    let local = |p: &Place| [p.x.metres() - ring[0].x.metres(), p.y.metres() - ring[0].y.metres()];
    let at: Vec<[f64; 2]> = ring.iter().map(local).collect();
    (0..at.len())
        .map(|i| (at[i], at[(i + 1) % at.len()]))
        .map(|(a, b)| a[0] * b[1] - a[1] * b[0])
        .sum::<f64>()
        / 2.0
}

fn check_falls(tin: &Tin, course: &Course) {
    assert!(course.places.windows(2).all(|w| w[1].1 <= w[0].1), "rises: {course:?}");
    for (at, level) in &course.places {
        near("level", tin.level(*at).expect("ground").metres(), level.metres());
    }
}

fn check_courses(tin: &Tin, starts: &[(f64, f64)]) {
    let hollows = tin.hollows(&[]);
    for (x, y) in starts {
        let courses = tin.trace_over(place(*x, *y), &[], &hollows).expect("ground");
        for course in &courses {
            check_falls(tin, course);
        }
        let last = courses[courses.len() - 1].end;
        // Where no building stands in the way all water leaves the ground in the end.
        assert_eq!(last, End::Outer);
        assert_eq!(tin.trace(place(*x, *y), &[]).as_ref(), courses.first());
    }
}

fn check_amounts(tin: &Tin, ring: &[Place]) {
    let sum =
        |areas: Vec<(End, groundrule_units::Area)>| areas.iter().map(|a| a.1.square_metres()).sum::<f64>();
    near("catchments", sum(tin.catchments(&[], None)), tin.plan_area().square_metres());
    near("in the ring", sum(tin.catchments(&[], Some(ring))), ring_area(ring).abs());
    near("ring", tin.within(ring).iter().map(|a| a.1.square_metres()).sum(), ring_area(ring).abs());
    for contour in tin.contours(metres(0.37), metres(0.1)) {
        assert!(contour.path.len() > 1);
        for at in &contour.path {
            near("contour", tin.level(*at).expect("ground").metres(), contour.level.metres());
        }
    }
    let steep = Ratio::from_fraction(0.5);
    let faces = tin.faces(steep);
    let facets: BTreeSet<_> = faces.iter().flat_map(|face| face.facets.iter().copied()).collect();
    let expected: BTreeSet<_> = tin.facet_ids().filter(|f| tin.gradient(*f).slope() > steep).collect();
    assert_eq!(facets, expected);
    for face in &faces {
        let area: f64 = face.facets.iter().map(|f| tin.area(*f).square_metres()).sum();
        near("face", face.outlines.iter().map(|ring| ring_area(ring)).sum(), area);
    }
}

fn check_along(tin: &Tin, from: (f64, f64), to: (f64, f64)) {
    let stretches = tin.along(place(from.0, from.1), place(to.0, to.1));
    let mut reached = 0.0;
    for stretch in &stretches {
        near("goes on", stretch.from, reached);
        let t = f64::midpoint(stretch.from, stretch.to);
        let middle = place(from.0 + (to.0 - from.0) * t, from.1 + (to.1 - from.1) * t);
        assert!(tin.weights(stretch.facet, middle).iter().all(|w| *w > -1e-6));
        reached = stretch.to;
    }
    near("to the end", reached, 1.0);
}

/// Volume under a surface.
fn volume(tin: &Tin) -> f64 {
    let mean =
        |f| tin.corners(f).iter().map(|v| tin.vertices()[v.0 as usize].level.metres()).sum::<f64>() / 3.0;
    tin.facet_ids().map(|f| tin.area(f).square_metres() * mean(f)).sum()
}

fn inside() -> impl Strategy<Value = (f64, f64)> {
    (0.01..11.99, 0.01..11.99)
}

fn yard() -> Vec<Place> {
    vec![place(1.5, 1.25), place(10.5, 2.0), place(9.0, 9.5), place(5.0, 4.0), place(2.0, 10.0)]
}

proptest! {
    #![proptest_config(same_every_time(128))]

    #[test]
    fn facets_cover_the_hull(at in on_a_grid(), lines in lines()) {
        let tin = build(&at, &lines, &[]);
        check_whole(&tin);
        near("area", tin.plan_area().square_metres(), 144.0);
        let levels: Vec<_> = tin.vertices().iter().map(|v| v.level).collect();
        let same = tin.with_levels(&levels);
        prop_assert_eq!(same.vertices(), tin.vertices());
        prop_assert_eq!(same.hollows(&[]), tin.hollows(&[]));
        prop_assert_eq!(build(&at, &lines, &[]).hollows(&[]), tin.hollows(&[]));
    }

    #[test]
    fn holes_hold_ground_back(
        at in strewn(), lines in lines(), ring in vec(0_u32..4, 3), starts in vec(inside(), 5),
    ) {
        // A house whose ring is of its own corners, wherever lines run.
        let first = u32::try_from(at.len()).expect("few");
        let mut at = at;
        at.extend([[4.0, 4.0, 1.0], [8.0, 4.0, 1.0], [8.0, 8.0, 1.0], [4.0, 8.0, 1.0]]);
        let house: Vec<u32> = (0..4).map(|k| first + k).collect();
        let odd: Vec<u32> = ring.iter().map(|k| first + k).collect();
        let tin = build(&at, &lines, std::slice::from_ref(&house));
        check_whole(&tin);
        // Where a spot is within a millimetre of the wall the wall bends to it.
        prop_assert!((tin.plan_area().square_metres() - 128.0).abs() < 0.02);
        prop_assert_eq!(tin.level(place(6.0, 6.0)), None);
        let hollows = tin.hollows(&[]);
        for hollow in &hollows {
            let area: f64 = hollow.outlines.iter().map(|ring| ring_area(ring)).sum();
            near("outline", area, hollow.area.square_metres());
        }
        for (x, y) in starts {
            let courses = tin.trace_over(place(x, y), &[], &hollows);
            prop_assert_eq!(courses.is_some(), tin.facet_at(place(x, y)).is_some());
            for course in courses.into_iter().flatten() {
                check_falls(&tin, &course);
            }
        }
        let drained: f64 = tin.catchments(&[], None).iter().map(|c| c.1.square_metres()).sum();
        near("drained", drained, tin.plan_area().square_metres());
        // Rings of few places or twice the same: whatever comes of it, the surface is whole.
        check_whole(&build(&at, &lines, &[house, odd]));
    }

    #[test]
    fn crowds_within_a_millimetre_come_apart(
        crowd in vec((0_u8..14, 0_u8..14, 0_u8..4), 3..40), lines in lines(), holes in vec(vec(0_u32..40, 3..6), 0..3),
    ) {
        // Spots less than a millimetre apart in clumps, with lines and rings criss-cross through them.
        let spot = |&(x, y, z): &(u8, u8, u8)| {
            let at = |v: u8| 4.0 * f64::from(v / 7) + 0.000_7 * f64::from(v % 7);
            [3.0 + at(x), 3.0 + at(y), f64::from(z)]
        };
        let corners = CORNERS.iter().map(|[x, y]| [*x, *y, 0.0]);
        let at: Vec<[f64; 3]> = corners.chain(crowd.iter().map(spot)).collect();
        let tin = build(&at, &lines, &[]);
        check_whole(&tin);
        prop_assert!((tin.plan_area().square_metres() - 144.0).abs() < 0.1);
        tin.hollows(&[]);
        let input = Input { vertices: spots(&at), lines, holes };
        if let Ok((tin, _)) = Tin::build(&input) {
            check_whole(&tin);
            let drained: f64 = tin.catchments(&[], None).iter().map(|c| c.1.square_metres()).sum();
            prop_assert!((drained - tin.plan_area().square_metres()).abs() < 1e-6);
        }
    }

    #[test]
    fn hollows_are_what_a_flood_finds(grid in on_a_grid(), strewn in strewn(), lines in lines()) {
        check_hollows(&build(&grid, &lines, &[]));
        check_hollows(&build(&strewn, &lines, &[]));
    }

    #[test]
    fn courses_fall_and_end(grid in on_a_grid(), strewn in strewn(), lines in lines(), starts in vec(inside(), 5)) {
        let (grid, strewn) = (build(&grid, &lines, &[]), build(&strewn, &lines, &[]));
        check_courses(&grid, &starts);
        check_courses(&strewn, &starts);
        let corners: Vec<_> = grid.vertices().iter().map(|v| (v.at.x.metres(), v.at.y.metres())).collect();
        check_courses(&grid, &corners);
    }

    #[test]
    fn courses_on_a_plane_agree(
        at in strewn(), (east, north) in (-1.0..1.0, -1.0..1.0), (x, y) in (1.0..11.0, 1.0..11.0),
    ) {
        let plane: Vec<_> = at.iter().map(|[x, y, _]| [*x, *y, x * east + y * north]).collect();
        let tin = build(&plane, &[], &[]);
        let ends = [(x, y), (x + 1e-7, y - 1e-7)].map(|(x, y)| {
            let course = tin.trace(place(x, y), &[]).expect("ground");
            assert_eq!(course.end, End::Outer);
            course.places[course.places.len() - 1].0
        });
        let off = libm::hypot((ends[0].x - ends[1].x).metres(), (ends[0].y - ends[1].y).metres());
        prop_assert!(off < 1e-4, "{} apart", off);
    }

    #[test]
    fn lines_over_the_ground_have_no_gaps(grid in on_a_grid(), lines in lines(), from in inside(), to in inside()) {
        prop_assume!(libm::hypot(from.0 - to.0, from.1 - to.1) > 0.1);
        let tin = build(&grid, &lines, &[]);
        check_along(&tin, from, to);
        check_along(&tin, (0.0, 0.0), (12.0, 12.0));
        check_along(&tin, (0.0, 0.0), (12.0, 0.0));
        check_along(&tin, (3.0, 12.0), (3.0, 0.0));
    }

    #[test]
    fn earthwork_is_the_difference(first in strewn(), second in on_a_grid(), which in 0_usize..4) {
        let (from, to) = (build(&first, &[], &[]), build(&second, &[], &[]));
        let (there, back) = (cut_and_fill(&from, &to, None), cut_and_fill(&to, &from, None));
        near("area", there.area.square_metres(), 144.0);
        near("cut", there.cut.cubic_metres(), back.fill.cubic_metres());
        near("fill", there.fill.cubic_metres(), back.cut.cubic_metres());
        let net = there.cut.cubic_metres() - there.fill.cubic_metres();
        prop_assert!((net - (volume(&from) - volume(&to))).abs() < 1e-7);
        // How the cut follows one level, against moving it a little both ways.
        let moved = |by: f64| {
            let mut levels: Vec<_> = from.vertices().iter().map(|v| v.level).collect();
            levels[which] = levels[which] + metres(by);
            cut_and_fill(&from.with_levels(&levels), &to, None).cut.cubic_metres()
        };
        let found = (moved(1e-5) - moved(-1e-5)) / 2e-5;
        prop_assert!((found - there.by_level.cut_by_from[which].square_metres()).abs() < 1e-2);
    }
}

proptest! {
    #![proptest_config(same_every_time(24))]

    #[test]
    fn amounts_add_up(grid in on_a_grid(), strewn in strewn(), lines in lines()) {
        check_amounts(&build(&grid, &lines, &[]), &yard());
        check_amounts(&build(&strewn, &lines, &[]), &yard());
    }
}
