//! What must hold of any two shapes.

use groundrule_survey::Shape;
use proptest::prelude::*;

use crate::sheet::{Built, Sheet, metres};

/// A ring around a centre, its corners in order of angle: any such ring is simple, most are not convex.
fn star() -> impl Strategy<Value = Vec<[f64; 2]>> {
    (prop::collection::vec(0.4..3.0, 3..9), -6.0..6.0, -6.0..6.0).prop_map(|(radii, x, y)| {
        let step = std::f64::consts::TAU / radii.len() as f64;
        let corner = |(i, r): (usize, &f64)| {
            let (sin, cos) = libm::sincos(step * i as f64 + 0.1);
            [x + r * cos, y + r * sin]
        };
        radii.iter().enumerate().map(corner).collect()
    })
}

#[derive(Clone, Debug)]
enum Drawn {
    Outline(Vec<[f64; 2]>),
    Line(Vec<[f64; 2]>, f64),
    Disc([f64; 2], f64),
}

fn drawn() -> impl Strategy<Value = Drawn> {
    prop_oneof![
        4 => star().prop_map(Drawn::Outline),
        1 => (star(), prop_oneof![Just(0.0), 0.1..1.0]).prop_map(|(path, width)| Drawn::Line(path, width)),
        1 => (-6.0..6.0, -6.0..6.0, prop_oneof![Just(0.0), 0.1..3.0]).prop_map(|(x, y, r)| Drawn::Disc([x, y], r)),
    ]
}

fn site(shapes: &[&Drawn], moved: impl Fn(usize, [f64; 2]) -> [f64; 2]) -> Built {
    let mut sheet = Sheet::new();
    for (i, (drawn, name)) in shapes.iter().zip(["a", "b", "c"]).enumerate() {
        let path = |ring: &[[f64; 2]]| ring.iter().map(|p| moved(i, *p)).collect::<Vec<_>>();
        match drawn {
            Drawn::Outline(ring) => drop(sheet.outline(name, &path(ring), 0.05)),
            Drawn::Line(ring, width) => drop(sheet.line(name, &path(ring), *width, 0.05)),
            Drawn::Disc(centre, radius) => drop(sheet.disc(name, moved(i, *centre), *radius, 0.05)),
        }
    }
    sheet.build()
}

fn still(_: usize, p: [f64; 2]) -> [f64; 2] {
    p
}

fn clearance(built: &Built) -> f64 {
    built.clearance("a", "b").value().si()
}

fn overlap(built: &Built) -> f64 {
    built.site.overlap(built.id("a"), built.id("b")).value().si()
}

/// The greatest distance between two of a shape's points is no more than this.
const SPAN: f64 = 9.0;

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn the_order_of_two_features_does_not_matter(a in drawn(), b in drawn()) {
        let built = site(&[&a, &b], still);
        let (there, back) = (built.clearance("a", "b"), built.clearance("b", "a"));
        prop_assert!((there.value().si() - back.value().si()).abs() < 1e-9);
        let (id_a, id_b) = (built.id("a"), built.id("b"));
        let back = built.site.overlap(id_b, id_a).value().si();
        prop_assert!((overlap(&built) - back).abs() < 1e-9);
    }

    #[test]
    fn neither_do_place_and_direction(a in drawn(), b in drawn(), turn in 0.0..6.3, far in prop::bool::ANY) {
        let (sin, cos) = libm::sincos(turn);
        let (x, y) = if far { (6.0e6, 2.0e6) } else { (3.0, -8.0) };
        let here = site(&[&a, &b], still);
        let there = site(&[&a, &b], |_, p| [x + cos * p[0] - sin * p[1], y + sin * p[0] + cos * p[1]]);
        let tolerance = if far { 1e-7 } else { 1e-9 };
        let off = (clearance(&here) - clearance(&there)).abs();
        // Where rounding moves corners of a shape that is not convex it may be cut otherwise; only depth asks.
        prop_assert!(off < tolerance || clearance(&here) < 0.0, "{off}");
        prop_assert!((clearance(&here) > tolerance) == (clearance(&there) > tolerance) || clearance(&here).abs() < 2.0 * tolerance);
        prop_assert!((overlap(&here) - overlap(&there)).abs() < 20.0 * tolerance);
        let spread = |built: &Built| built.clearance("a", "b").spread().si();
        prop_assert!(clearance(&here) < 0.0 || (spread(&here) - spread(&there)).abs() < 0.01);
    }

    #[test]
    fn distance_keeps_to_the_triangle(a in drawn(), b in drawn(), c in drawn()) {
        let built = site(&[&a, &b, &c], still);
        let distance = |p, q| built.distance(p, q).value().si();
        prop_assert!(distance("a", "c") <= distance("a", "b") + SPAN + distance("b", "c") + 1e-9);
    }

    #[test]
    fn a_shift_changes_distance_by_no_more_than_itself(a in drawn(), b in drawn(), x in -2.0..2.0, y in -2.0..2.0) {
        let before = site(&[&a, &b], still).distance("a", "b").value().si();
        let moved = |i, p: [f64; 2]| if i == 1 { [p[0] + x, p[1] + y] } else { p };
        let after = site(&[&a, &b], moved).distance("a", "b").value().si();
        prop_assert!((before - after).abs() <= libm::hypot(x, y) + 1e-9);
    }

    #[test]
    fn what_overlaps_has_no_clearance_and_what_is_clear_no_overlap(a in drawn(), b in drawn()) {
        let built = site(&[&a, &b], still);
        let (clearance, overlap) = (clearance(&built), overlap(&built));
        prop_assert!(clearance <= 1e-9 || overlap == 0.0, "clear by {clearance}, sharing {overlap}");
        prop_assert!(overlap < 1e-6 || clearance < 0.0, "sharing {overlap}, clear by {clearance}");
    }

    #[test]
    fn covered_is_both_less_what_they_share(a in drawn(), b in drawn()) {
        let built = site(&[&a, &b], still);
        let (id_a, id_b) = (built.id("a"), built.id("b"));
        let area = |id| built.site.area(id).value().si();
        let covered = built.site.covered(&[id_a, id_b], None).value().si();
        prop_assert!((covered - (area(id_a) + area(id_b) - overlap(&built))).abs() < 1e-9);
        prop_assert!(overlap(&built) <= area(id_a).min(area(id_b)) + 1e-9);
        let within = built.site.covered(&[id_a], Some(id_b)).value().si();
        prop_assert!((within - overlap(&built)).abs() < 1e-9);
    }

    #[test]
    fn one_alone_and_one_swept_have_the_same_area_and_spread(ring in star()) {
        let built = site(&[&Drawn::Outline(ring)], still);
        let a = built.id("a");
        let (alone, swept) = (built.site.area(a), built.site.covered(&[a, a], None));
        prop_assert!((alone.value().si() - swept.value().si()).abs() < 1e-9);
        prop_assert!((alone.spread().si() - swept.spread().si()).abs() < 1e-9);
    }

    #[test]
    fn the_shift_it_says_frees_two_discs_or_a_disc_and_a_box(
        x in -3.0..3.0, y in -3.0..3.0, radius in 0.1..2.0, turn in 0.0..6.3,
    ) {
        let (sin, cos) = libm::sincos(turn);
        let ring = [[-2.0, -1.0], [2.0, -1.0], [2.0, 1.0], [-2.0, 1.0]].map(|[x, y]| [cos * x - sin * y, sin * x + cos * y]);
        let (ring, disc) = (Drawn::Outline(ring.to_vec()), Drawn::Disc([x, y], radius));
        let depth = -clearance(&site(&[&ring, &disc], still));
        prop_assume!(depth > 1e-6);
        // No shorter shift frees it, in any of many directions; one a hair longer does in one of them.
        let freed = |by: f64| (0..180).any(|k| {
            let (sin, cos) = libm::sincos(f64::from(k) * std::f64::consts::PI / 90.0);
            clearance(&site(&[&ring, &disc], |i, p| if i == 1 { [p[0] + by * cos, p[1] + by * sin] } else { p })) >= 0.0
        });
        prop_assert!(!freed(depth * 0.999));
        prop_assert!(freed(depth * 1.001 + 1e-4));
    }
}

#[test]
fn shapes_in_one_place_do_not_panic() {
    let point = || crate::sheet::exact(1.0, 1.0);
    let mut sheet = Sheet::new();
    sheet.add("a", Shape::Line { path: vec![point(), point()], width: metres(1.0) });
    sheet.add("b", Shape::Outline { ring: vec![point(), point(), point()], holes: Vec::new() });
    sheet.add("c", Shape::Spot(point()));
    sheet.add("d", Shape::Disc { centre: point(), radius: metres(0.0) });
    sheet.add("e", Shape::Line { path: vec![point()], width: metres(0.0) });
    sheet.add("f", Shape::Line { path: Vec::new(), width: metres(0.0) });
    let flat = [[0.0, 0.0], [5.0, 5.0], [10.0, 10.0]];
    sheet.outline("g", &flat, 0.1);
    let built = sheet.build();
    let all: Vec<_> = built.site.features().map(|(id, _)| id).collect();
    for a in &all {
        built.site.drawn_width(*a);
        built.site.length(*a);
        assert!(built.site.area(*a).value().si().abs() < 1e-12);
        for b in &all {
            for measured in
                [built.site.clearance(*a, *b), built.site.overlap(*a, *b), built.site.length_inside(*a, *b)]
            {
                assert!(measured.value().si().is_finite() && measured.spread().si().is_finite());
            }
        }
    }
}
