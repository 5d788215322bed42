//! Surfaces whose figures follow from a formula: S1 to S7 and S10 of the outside figures.

use groundrule_terrain::{End, Hollow, Tin, Vertex, VertexId};
use groundrule_units::Length;

use crate::helper::{
    Draw, corners, faceted, levelled, metres, near, number, oracle, place, spot, spots, surface, triples,
};

/// Slope and compass azimuth of the fall of every facet.
fn check_slopes(tin: &Tin, expected: &[(f64, f64)]) {
    assert_eq!(tin.facets(), expected.len());
    for (facet, (slope, azimuth)) in tin.facet_ids().zip(expected) {
        let gradient = tin.gradient(facet);
        near("slope", gradient.slope().fraction(), *slope);
        let downhill = gradient.downhill().expect("not level");
        near("azimuth", (90.0 - downhill.degrees()).rem_euclid(360.0), *azimuth);
    }
}

/// Depth, spill level, area and volume of a hollow.
fn check_hollow(tin: &Tin, hollow: &Hollow, expected: [f64; 4]) {
    let spill = tin.vertices()[hollow.spill.0 as usize].level;
    let found =
        [hollow.depth.metres(), spill.metres(), hollow.area.square_metres(), hollow.volume.cubic_metres()];
    for (what, (found, expected)) in
        ["depth", "spill", "area", "volume"].iter().zip(found.iter().zip(expected))
    {
        near(what, *found, expected);
    }
}

fn check_course(tin: &Tin, from: [f64; 2], expected: &[[f64; 2]], end: End, length: f64, drop: f64) {
    let course = tin.trace(place(from[0], from[1]), &[]).expect("on the ground");
    assert_eq!(course.end, end);
    let corner = |&(at, _): &(groundrule_terrain::Place, Length)| [at.x.metres(), at.y.metres()];
    let run: f64 = course.places.windows(2).map(|w| distance(corner(&w[0]), corner(&w[1]))).sum();
    near("length", run, length);
    for (i, [x, y]) in expected.iter().enumerate() {
        // On a plane the edges crossed on the way are places of their own.
        let passed = course.places.iter().any(|p| distance(corner(p), [*x, *y]) < 1e-9);
        assert!(passed, "place {i} of the course is missing in {:?}", course.places);
    }
    let levels: Vec<f64> = course.places.iter().map(|(_, z)| z.metres()).collect();
    assert!(levels.windows(2).all(|w| w[1] <= w[0]), "rises: {levels:?}");
    near("drop", levels[0] - levels[levels.len() - 1], drop);
}

fn distance([a, b]: [f64; 2], [c, d]: [f64; 2]) -> f64 {
    libm::hypot(a - c, b - d)
}

#[test]
fn s1_a_plane_has_one_slope_and_straight_courses() {
    let oracle = oracle("S1_plane");
    let mut draw = Draw::new(11);
    let mut at = vec![[0.0, 0.0], [100.0, 0.0], [100.0, 100.0], [0.0, 100.0]];
    at.extend((0..60).map(|_| [draw.next() * 100.0, draw.next() * 100.0]));
    let spots = at.iter().map(|[x, y]| spot(*x, *y, 100.0 + 0.02 * x - 0.03 * y)).collect();
    let tin = surface(spots, &[], &[]);
    let slope = (number(&oracle, "slope"), number(&oracle, "downslope_azimuth"));
    let (least, mean, greatest) = tin.steepness();
    for found in [least, mean, greatest] {
        assert!((found.fraction() - slope.0).abs() < 1e-11, "{found:?}");
    }
    assert_eq!(tin.hollows(&[]), []);
    let exit = [number_in(&oracle["flow_exit"], 0), number_in(&oracle["flow_exit"], 1)];
    let (length, drop) = (number(&oracle, "flow_length"), number(&oracle, "drop"));
    check_course(&tin, [50.0, 50.0], &[exit], End::Outer, length, drop);
    near("level", tin.level(place(12.5, 80.25)).expect("ground").metres(), 100.0 + 0.25 - 2.4075);
}

fn number_in(value: &serde_json::Value, at: usize) -> f64 {
    value[at].as_f64().expect("a number")
}

#[test]
fn s2_a_ridge_line_parts_the_slopes() {
    let oracle = oracle("S2_ridge");
    let tin = faceted(levelled(&oracle), &corners(&oracle, "triangles"));
    check_slopes(&tin, &[(0.1, 270.0), (0.1, 270.0), (0.1, 90.0), (0.1, 90.0)]);
}

#[test]
fn s3_the_facets_of_a_cone() {
    for (name, sides) in [("S3_cone_6", 6_u32), ("S3_cone_12", 12), ("S3_cone_36", 36)] {
        let oracle = oracle(name);
        let (radius, drop) = (number(&oracle, "R"), number(&oracle, "drop"));
        let mut vertices = vec![spot(0.0, 0.0, 10.0)];
        for k in 0..sides {
            // The first corner is north, and they go round with the clock.
            let (sin, cos) = libm::sincos(std::f64::consts::TAU * f64::from(k) / f64::from(sides));
            vertices.push(spot(radius * sin, radius * cos, 10.0 - drop));
        }
        let triangles: Vec<[u32; 3]> = (1..=sides).map(|k| [0, k % sides + 1, k]).collect();
        let tin = faceted(vertices, &triangles);
        let (least, mean, greatest) = tin.steepness();
        for found in [least, mean, greatest] {
            near(name, found.fraction(), number(&oracle, "facet_slope"));
        }
        near("area", tin.plan_area().square_metres(), number(&oracle, "plan_area"));
        let downhill =
            tin.gradient(tin.facet_at(place(0.5, 5.0)).expect("ground")).downhill().expect("falls");
        near("azimuth", 90.0 - downhill.degrees(), number_in(&oracle["azimuths_first"], 0));
    }
}

#[test]
fn s4_a_pit_with_a_level_rim_and_one_with_a_low_corner() {
    let level = oracle("S4_pit_level_rim");
    let triangles = corners(&level, "triangles");
    for (name, outline) in [("S4_pit_level_rim", 4), ("S4_pit_low_corner", 4)] {
        let oracle = oracle(name);
        let tin = faceted(levelled(&oracle), &triangles);
        let hollows = tin.hollows(&[]);
        assert_eq!(hollows.len(), 1);
        let exact = &oracle["exact"];
        let figures = ["depth", "spill", "area", "volume"].map(|figure| number(exact, figure));
        check_hollow(&tin, &hollows[0], figures);
        assert_eq!((hollows[0].bottom, hollows[0].vertices.as_slice()), (VertexId(0), &[VertexId(0)][..]));
        assert_eq!(hollows[0].outlines.iter().map(Vec::len).collect::<Vec<_>>(), [outline]);
        // A drain at the bottom empties it.
        assert_eq!(tin.hollows(&[VertexId(0)]), []);
    }
}

#[test]
fn s5_two_pits_nest_in_the_pond_they_make() {
    let oracle = oracle("S5_two_pits");
    let tin = faceted(levelled(&oracle), &corners(&oracle, "triangles"));
    let hollows = tin.hollows(&[]);
    let shape: Vec<_> = hollows.iter().map(|h| (h.bottom.0, h.spill.0, h.parent)).collect();
    assert_eq!(shape, [(4, 6, Some(2)), (5, 6, Some(2)), (4, 0, None)]);
    near("A", hollows[0].volume.cubic_metres(), number(&oracle, "volume_A_to_saddle"));
    near("B", hollows[1].volume.cubic_metres(), number(&oracle, "volume_B_to_saddle"));
    check_hollow(&tin, &hollows[2], [2.2, 0.2, 300.0, number(&oracle, "total_to_outlet")]);
    assert_eq!(hollows[2].vertices, [VertexId(4), VertexId(5), VertexId(6)]);

    // Into B, over the saddle into A, and when both are full over the rim and off the ground.
    let courses = tin.trace_over(place(25.0, 5.0), &[], &hollows).expect("ground");
    let ends: Vec<End> = courses.iter().map(|c| c.end).collect();
    assert_eq!(ends, [End::Pit(VertexId(5)), End::Pit(VertexId(4)), End::Outer]);
}

#[test]
fn s6_water_runs_into_a_valley_and_along_it() {
    let oracle = oracle("S6_valley");
    let tin = faceted(levelled(&oracle), &corners(&oracle, "triangles"));
    let azimuths = [78.690_067_525_979_77, 281.309_932_474_020_2];
    let slope = libm::sqrt(0.0104);
    check_slopes(&tin, &[0, 0, 1, 1].map(|side| (slope, azimuths[side])));
    let path = [[10.0, 5.0], [0.0, 7.0], [0.0, 40.0]];
    let (length, drop) = (number(&oracle, "path_length"), number(&oracle, "drop"));
    check_course(&tin, path[0], &path, End::Outer, length, drop);
}

/// A grid of levels and the diagonals of its cells from (row, column + 1) to (row + 1, column) as lines.
pub(crate) fn grid(
    rows: u32,
    columns: u32,
    vertex: impl Fn(u32, u32) -> Vertex,
) -> (Vec<Vertex>, Vec<[u32; 2]>) {
    let vertices =
        (0..rows).flat_map(|i| (0..columns).map(move |j| (i, j))).map(|(i, j)| vertex(i, j)).collect();
    let cells = (0..rows - 1).flat_map(|i| (0..columns - 1).map(move |j| (i, j)));
    (vertices, cells.map(|(i, j)| [i * columns + j + 1, (i + 1) * columns + j]).collect())
}

#[test]
fn s7_a_bowl_on_a_grid() {
    let oracle = oracle("S7_bowl_grid");
    // The outside figures have rows along x and columns along y, so that the diagonal is the same by symmetry.
    let (vertices, diagonals) = grid(21, 21, |i, j| {
        let (x, y) = (f64::from(i) * 2.0 - 20.0, f64::from(j) * 2.0 - 20.0);
        spot(x, y, 0.01 * (x * x + y * y))
    });
    let lines: Vec<&[u32]> = diagonals.iter().map(<[u32; 2]>::as_slice).collect();
    let tin = surface(vertices, &lines, &[]);
    assert_eq!(tin.facets(), 800);
    let hollows = tin.hollows(&[]);
    assert_eq!(hollows.len(), 1);
    check_hollow(
        &tin,
        &hollows[0],
        ["depth", "spill", "area", "volume"].map(|figure| number(&oracle, figure)),
    );
    // The line at the spill level goes once round, where the water stands.
    let round: Vec<_> = tin.contour_at(metres(2.0)).into_iter().map(|c| c.closed).collect();
    assert_eq!(round, [true]);
}

#[test]
fn s10_the_spread_of_a_slope_follows_from_its_weights() {
    let oracle = oracle("S10_facet_slope_uncertainty");
    let tin = surface(spots(&triples(&oracle, "tri", |v| v.as_f64().expect("a number"))), &[], &[]);
    let facet = tin.facet_at(place(4.0, 2.0)).expect("ground");
    let gradient = tin.gradient(facet);
    let slope = gradient.slope().fraction();
    near("slope", slope, number(&oracle, "slope"));
    let direction = [gradient.x.fraction() / slope, gradient.y.fraction() / slope];
    let sigma = number(&oracle, "sigma_z");
    let part = |[x, y]: [f64; 2]| (x * direction[0] + y * direction[1]) * sigma;
    let square: f64 = tin.gradient_weights(facet).into_iter().map(|w| part(w) * part(w)).sum();
    near("spread", libm::sqrt(square), number(&oracle, "u"));
}

#[test]
fn contours_of_a_plane_are_straight_and_in_order() {
    let tin =
        surface(spots(&[[0.0, 0.0, 0.0], [10.0, 0.0, 1.0], [10.0, 10.0, 1.0], [0.0, 10.0, 0.0]]), &[], &[]);
    let contours = tin.contours(metres(0.25), metres(0.0));
    let levels: Vec<f64> = contours.iter().map(|c| c.level.metres()).collect();
    assert_eq!(levels, [0.25, 0.5, 0.75, 1.0]);
    for contour in &contours {
        assert!(!contour.closed);
        for at in &contour.path {
            near("x", at.x.metres(), contour.level.metres() * 10.0);
        }
        // Lower ground is west, on the left when going north.
        assert!(contour.path[0].y < contour.path[contour.path.len() - 1].y);
    }
}
