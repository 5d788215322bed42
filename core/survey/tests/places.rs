//! Plans in, points and their errors out.

#![allow(clippy::panic, clippy::expect_used, reason = "a plan that does not resolve ends its test")]

use groundrule_plan::{Gravity, Remark, Source, read_plan};
use groundrule_survey::{Layout, Point, Shape, resolve};

const HEAD: &str = r#"
[site]
name = "Test lot"
units = "m"
north = "up"
by = "aerial"

[accuracy]
aerial = "0.3 m"
tape = "10 mm"
exact = "0"

[lot]
corners = [[0, 0], [30, 0], [30, 40], [0, 40]]
names = ["sw", "se", "ne", "nw"]
by = "exact"
sides = { sw-se = { role = "front" }, se-ne = { role = "side" }, ne-nw = { role = "rear" }, nw-sw = { role = "side" } }
"#;

/// 95 % half width of the smaller figures below, as a standard uncertainty.
fn u(plus_minus: f64) -> f64 {
    plus_minus / 1.959_963_984_540_054
}

fn layout(rest: &str) -> (Layout, Vec<Remark>) {
    let source = Source { name: "test.toml".to_owned(), text: format!("{HEAD}{rest}").into() };
    let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults:#?}"));
    resolve(&plan).unwrap_or_else(|faults| panic!("{faults:#?}"))
}

fn faults(rest: &str) -> Vec<&'static str> {
    let source = Source { name: "test.toml".to_owned(), text: format!("{HEAD}{rest}").into() };
    let faults = match read_plan(&source) {
        Err(faults) => faults,
        Ok(plan) => resolve(&plan).expect_err("the plan should not resolve"),
    };
    faults.faults.iter().map(|fault| fault.code).collect()
}

fn named<'a>(layout: &'a Layout, name: &str) -> &'a Point {
    layout.named.get(name).unwrap_or_else(|| panic!("no {name} among {:?}", layout.named.keys()))
}

/// Standard uncertainty of the distance from one point to another.
fn spread(a: &Point, b: &Point) -> f64 {
    let (dx, dy) = ((b.at.x - a.at.x).metres(), (b.at.y - a.at.y).metres());
    let d = (dx * dx + dy * dy).sqrt();
    let mut moves = std::collections::BTreeMap::new();
    for (point, sign) in [(b, 1.0), (a, -1.0)] {
        for term in point.error.terms() {
            *moves.entry(term.source).or_insert(0.0) +=
                sign * (term.x.metres() * dx + term.y.metres() * dy) / d;
        }
    }
    moves.values().map(|m| m * m).sum::<f64>().sqrt()
}

#[track_caller]
fn check(actual: f64, expected: f64) {
    assert!((actual - expected).abs() < 1e-12, "{actual} is not {expected}");
}

#[test]
fn a_box_read_off_a_picture_has_the_error_of_its_edges() {
    let (layout, _) = layout(
        "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\nbox = { corner = 'sw', at = [5, 10], size = ['12 m', '9 m'] }\n",
    );
    // A piece between two positions that are each read to 0.3 m is known to 0.3 times root two.
    check(spread(named(&layout, "house.sw"), named(&layout, "house.se")), u(0.3) * 2.0_f64.sqrt());
    check(named(&layout, "house.ne").at.x.metres(), 17.0);
    check(named(&layout, "house.ne").at.y.metres(), 19.0);
    // Its corners are as good as the edges that make them.
    let origin = Point::default();
    check(spread(&origin, named(&layout, "house.sw")), u(0.3));
}

#[test]
fn sizes_taped_from_a_corner_err_by_the_tape_wherever_the_corner_is() {
    let (layout, _) = layout(
        "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\nbox = { corner = 'ne', at = [17, 19], size = ['12 m', '9 m'], sizes_by = 'tape' }\n",
    );
    // The usual share of a taped length, 0.2 %, adds to the 0.01 m of this plan.
    check(spread(named(&layout, "house.sw"), named(&layout, "house.se")), u(libm::hypot(0.01, 0.002 * 12.0)));
    check(named(&layout, "house.sw").at.x.metres(), 5.0);
}

#[test]
fn a_bench_designed_off_a_wall_is_exactly_that_far_off_it() {
    let (layout, _) = layout(
        "[[feature]]\nid = 'house'\nkind = 'dwelling'\nstatus = 'existing'\nbox = { corner = 'sw', at = [5, 10], size = ['12 m', '9 m'] }\n\
         [[feature]]\nid = 'bench'\nkind = 'zone'\nstatus = 'proposed'\nbox = { along = 'house.ne-nw', station = '3 m', offset = '0.9 m', side = 'right', size = ['2 m', '0.5 m'] }\n",
    );
    let (wall, bench) = (named(&layout, "house.ne"), named(&layout, "bench.sw"));
    check(bench.at.y.metres(), 19.9);
    check(bench.at.x.metres(), 14.0);
    // Straight off the wall every error of the house is common to both.
    let foot = Point { at: wall.at, error: wall.error.clone() };
    let north: f64 = {
        let mut moves = std::collections::BTreeMap::new();
        for (point, sign) in [(bench, 1.0), (&foot, -1.0)] {
            for term in point.error.terms() {
                *moves.entry(term.source).or_insert(0.0) += sign * term.y.metres();
            }
        }
        moves.values().map(|m: &f64| m * m).sum::<f64>().sqrt()
    };
    check(north, 0.0);
}

#[test]
fn a_point_along_a_wall_swings_with_its_far_end() {
    let (layout, _) = layout(
        "[points]\na = { at = [5, 5], by = 'exact' }\nb = { at = [15, 5], by = 'aerial' }\n\
         p = { along = ['a', 'b'], station = '5 m', offset = 0, by = 'exact' }\n\
         q = { along = ['a', 'b'], station = '20 m', offset = 0, by = 'exact' }\n",
    );
    let north = |name: &str| named(&layout, name).error.terms().iter().map(|t| t.y.metres()).sum::<f64>();
    check(north("p"), u(0.3) * 0.5);
    check(north("q"), u(0.3) * 2.0);
    // The station is measured, so the far end's error along the wall does not move it.
    check(named(&layout, "p").error.terms().iter().map(|t| t.x.metres()).sum::<f64>(), 0.0);
}

#[test]
fn a_lot_written_clockwise_has_the_lot_on_the_left_of_every_side() {
    let text = HEAD.replace(
        "corners = [[0, 0], [30, 0], [30, 40], [0, 40]]\nnames = [\"sw\", \"se\", \"ne\", \"nw\"]",
        "corners = [[0, 0], [0, 40], [30, 40], [30, 0]]\nnames = [\"sw\", \"nw\", \"ne\", \"se\"]",
    );
    let text = text
        .replace("sw-se", "se-sw")
        .replace("se-ne", "ne-se")
        .replace("ne-nw", "nw-ne")
        .replace("nw-sw", "sw-nw");
    let source = Source { name: "test.toml".to_owned(), text: text.into() };
    let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let (layout, _) = resolve(&plan).unwrap();
    for side in &layout.lots[0].sides {
        let (a, b) = (side.path.first().unwrap().at, side.path.last().unwrap().at);
        let left =
            (b.x - a.x).metres() * (20.0 - a.y.metres()) - (b.y - a.y).metres() * (15.0 - a.x.metres());
        assert!(left > 0.0, "{:?} has the lot on its right", side.name);
    }
}

#[test]
fn far_coordinates_are_shifted_and_nothing_else_changes() {
    let far = HEAD.replace(
        "[[0, 0], [30, 0], [30, 40], [0, 40]]",
        "[[600000, 4500000], [600030, 4500000], [600030, 4500040], [600000, 4500040]]",
    );
    let source = Source { name: "far.toml".to_owned(), text: far.into() };
    let (layout, remarks) = resolve(&read_plan(&source).unwrap()).unwrap();
    check(layout.shift.x.metres(), 600_000.0);
    check(layout.lots[0].ring[2].at.y.metres(), 40.0);
    assert!(remarks.is_empty(), "{remarks:?}");
}

#[test]
fn curves_become_chords_that_keep_the_area() {
    let (layout, _) = layout(
        "[[feature]]\nid = 'pond'\nkind = 'pond'\nstatus = 'existing'\noutline = [{ at = [10, 20], radius = '5 m left' }, { at = [15, 15], radius = '5 m left' }, { at = [20, 20], through = [15, 25] }]\n",
    );
    let Shape::Outline { ring, .. } = &layout.shapes[0] else { panic!("{:?}", layout.shapes[0]) };
    let area: f64 = (0..ring.len())
        .map(|i| {
            let (a, b) = (ring[i].at, ring[(i + 1) % ring.len()].at);
            a.x.metres() * b.y.metres() - b.x.metres() * a.y.metres()
        })
        .sum::<f64>()
        / 2.0;
    // Two quarters and a half of a circle of 5 m: 25 pi, less what chords of 0.2 mm sagitta cut off.
    assert!((area - 25.0 * std::f64::consts::PI).abs() < 0.005, "{area}");
}

#[test]
fn wrong_outlines_are_remarked_on_and_left_out() {
    let check = |outline: &str, code: &str, place: &str| {
        let (layout, remarks) =
            layout(&format!("[[feature]]\nid = 'bed'\nkind = 'bed'\nstatus = 'existing'\n{outline}\n"));
        let remark =
            remarks.iter().find(|r| r.code == code).unwrap_or_else(|| panic!("{outline}: {remarks:?}"));
        assert_eq!(remark.gravity, Gravity::Wrong);
        assert!(remark.message.contains(place), "{}", remark.message);
        assert_eq!(layout.shapes[0], Shape::Absent);
    };
    check("outline = [[0, 0], [4, 4], [4, 0], [0, 4]]", "data::crossing-outline", "(2.00, 2.00) m");
    check(
        "outline = [[0, 0], [9, 0], [9, 4], [12, 4], [9, 4], [9, 9]]",
        "data::spike-in-outline",
        "(12.00, 4.00) m",
    );
    check("outline = [[0, 0], [4, 4], [8, 8]]", "data::flat-outline", "(0.00, 0.00) m");
    check(
        "outline = [[0, 0], [9, 0], [9, 9], [0, 9]]\nholes = [[[7, 7], [11, 7], [7, 8]]]",
        "data::hole-outside",
        "(11.00, 7.00) m",
    );
}

#[test]
fn absurd_sizes_and_places_are_asked_about() {
    let check = |feature: &str, code: &str| {
        let (_, remarks) =
            layout(&format!("[[feature]]\nid = 'shed'\nkind = 'shed'\nstatus = 'existing'\n{feature}\n"));
        assert_eq!(remarks.iter().map(|r| r.code).collect::<Vec<_>>(), [code], "{remarks:?}");
    };
    check("outline = [[0, 0], [4, 0], [4, 4], [0, 100000000]]", "data::absurd-extent");
    check("outline = [[700, 0], [704, 0], [704, 4], [700, 4]]", "data::far-from-lot");
}

#[test]
fn a_place_that_leads_nowhere_is_a_fault() {
    let check = |rest: &str, code: &str| assert_eq!(faults(rest), [code], "{rest}");
    check("[points]\np = { from = 'lot.xx', right = 1, up = 1 }\n", "plan::unknown-point");
    check(
        "[[feature]]\nid = 'bed'\nkind = 'bed'\nstatus = 'existing'\noutline = [{ at = [0, 0], radius = '1 m left' }, [9, 0], [9, 9]]\n",
        "plan::radius-too-short",
    );
    check(
        "[points]\np = { along = ['lot.sw', 'lot.sw'], station = 1, offset = 0 }\n",
        "plan::wall-without-length",
    );
}
