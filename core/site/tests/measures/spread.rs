//! Spreads against closed forms, each confirmed by two million draws (worked out for this project).

use groundrule_site::Measured;
use groundrule_survey::Shape;

use crate::sheet::{Built, Sheet, close, metres, shared};

fn check(what: &str, measured: &Measured, value: f64, spread: f64) {
    close(what, measured.value().si(), value, 1e-12);
    close(what, measured.spread().si(), spread, 1e-12);
}

/// The lower triangle whose product with its own transpose is the given covariance.
fn root(c: [[f64; 4]; 4]) -> [[f64; 4]; 4] {
    let mut l = [[0.0_f64; 4]; 4];
    for i in 0..4 {
        for j in 0..=i {
            let sum: f64 = (0..j).map(|k| l[i][k] * l[j][k]).sum();
            l[i][j] = if i == j { (c[i][i] - sum).sqrt() } else { (c[i][j] - sum) / l[j][j] };
        }
    }
    l
}

#[test]
fn distance_of_two_correlated_points() {
    let c = [
        [0.04, 0.01, 0.03, 0.0],
        [0.01, 0.09, 0.0, 0.06],
        [0.03, 0.0, 0.05, 0.005],
        [0.0, 0.06, 0.005, 0.08],
    ];
    let l = root(c);
    let point = |x, y, row: usize| {
        let terms: Vec<_> =
            (0..4).map(|k| (u32::try_from(k).expect("small"), l[row][k], l[row + 1][k])).collect();
        shared(x, y, &terms)
    };
    let mut sheet = Sheet::new();
    sheet.add("p", Shape::Spot(point(10.0, 20.0, 0)));
    sheet.add("q", Shape::Spot(point(13.0, 24.0, 2)));
    let built = sheet.build();
    check("correlated", &built.distance("p", "q"), 5.0, 0.239_165_214_862_027_96);
}

#[test]
fn a_shift_common_to_all_points_cancels() {
    let mut own = 0;
    let mut point = |x, y| {
        own += 2;
        shared(x, y, &[(0, 0.5, 0.0), (1, 0.0, 0.5), (own, 0.1, 0.0), (own + 1, 0.0, 0.1)])
    };
    let mut sheet = Sheet::new();
    let path = vec![point(0.0, 0.0), point(20.0, 0.0)];
    sheet.add("wall", Shape::Line { path, width: metres(0.0) });
    let tree = point(5.0, 3.0);
    sheet.add("tree", Shape::Spot(tree));
    let built = sheet.build();
    // 0.1 sqrt(1 + 0.75^2 + 0.25^2): the foot stands a quarter along the wall.
    check("foot", &built.distance("tree", "wall"), 3.0, 0.127_475_487_839_819_68);
}

#[test]
fn where_a_vertex_is_nearest_the_other_end_adds_nothing() {
    let mut sheet = Sheet::new();
    sheet.line("wall", &[[0.0, 0.0], [20.0, 0.0]], 0.0, 0.1);
    sheet.spot("tree", [-3.0, 4.0], 0.1);
    let built = sheet.build();
    let distance = built.distance("tree", "wall");
    check("vertex", &distance, 5.0, 0.1 * std::f64::consts::SQRT_2);
    let sources: Vec<u32> = distance.terms().iter().map(|(source, _)| source.0).collect();
    assert_eq!(sources, [0, 1, 4, 5], "the far end of the wall has sources 2 and 3");
}

fn rectangle(width: f64, depth: f64, sigma: f64) -> Built {
    let mut sheet = Sheet::new();
    sheet.outline("lawn", &[[0.0, 0.0], [width, 0.0], [width, depth], [0.0, depth]], sigma);
    sheet.build()
}

#[test]
fn area_of_a_rectangle() {
    // sigma sqrt(sum of squared chords / 4)
    let built = rectangle(30.0, 40.0, 0.05);
    check("area", &built.site.area(built.id("lawn")), 1200.0, 2.5);
    check("swept", &built.site.covered(&[built.id("lawn"), built.id("lawn")], None), 1200.0, 2.5);
}

#[test]
fn perimeter_of_a_rectangle() {
    // Each corner moves both its sides by its own error: 0.05 sqrt 2 for each of four corners.
    let built = rectangle(30.0, 40.0, 0.05);
    check("around", &built.site.length(built.id("lawn")), 140.0, 0.05 * 8.0_f64.sqrt());
}

#[test]
fn two_distances_that_share_half_their_variance() {
    let half = 0.1 * 0.5_f64.sqrt();
    let mut sheet = Sheet::new();
    sheet.add("origin", Shape::Spot(shared(0.0, 0.0, &[(0, half, 0.0)])));
    sheet.add("first", Shape::Spot(shared(-5.2, 0.0, &[(1, half, 0.0)])));
    sheet.add("second", Shape::Spot(shared(-5.15, 0.0, &[(2, half, 0.0)])));
    let built = sheet.build();
    let (first, second) = (built.distance("first", "origin"), built.distance("second", "origin"));
    check("first", &first, 5.2, 0.1);
    check("second", &second, 5.15, 0.1);
    close("correlation", first.covariance(&second) / 0.01, 0.5, 1e-12);
}

#[test]
fn work_set_out_from_a_wall_stands_off_it_exactly() {
    let wall = |x| shared(x, 0.0, &[(0, 0.15, 0.0), (1, 0.0, 0.15)]);
    let bench = |x| shared(x, 3.0, &[(0, 0.15, 0.0), (1, 0.0, 0.15)]);
    let mut sheet = Sheet::new();
    sheet.add("wall", Shape::Line { path: vec![wall(0.0), wall(10.0)], width: metres(0.0) });
    sheet.add("bench", Shape::Line { path: vec![bench(2.0), bench(4.0)], width: metres(0.0) });
    let built = sheet.build();
    check("bench", &built.distance("bench", "wall"), 3.0, 0.0);
}
