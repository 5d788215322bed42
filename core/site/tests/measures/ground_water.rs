//! Hollows, courses of water and what drains where.
//!
//! Pits and the valley of section 4.1 of the numeric oracles (analytic).

use groundrule_site::ground::Outcome;
use groundrule_survey::Surface::{Existing, Proposed};
use groundrule_units::Area;

use crate::sheet::{Built, Sheet, at, close};

/// S4: a pit of bottom -1 in a rim of 1, or with one corner of the rim at a level, in flat ground.
fn pit(corner: f64, sigma: f64) -> Sheet {
    let mut sheet = Sheet::new();
    for level in [
        [10.0, 10.0, -1.0],
        [5.0, 5.0, 1.0],
        [15.0, 5.0, 1.0],
        [15.0, 15.0, corner],
        [5.0, 15.0, 1.0],
        [0.0, 0.0, 0.0],
        [20.0, 0.0, 0.0],
        [20.0, 20.0, 0.0],
        [0.0, 20.0, 0.0],
    ] {
        sheet.level(Existing, level, (0.0, sigma));
    }
    sheet.outline("lot-like", &[[0.0, 0.0], [20.0, 0.0], [20.0, 20.0], [0.0, 20.0]], 0.0);
    sheet.spot("grate", [10.2, 10.0], 0.0);
    sheet
}

#[test]
fn a_hollow_has_its_depth_area_and_volume() {
    for (corner, depth, area, volume) in [(1.0, 2.0, 100.0, 66.666_666_666_666_67), (0.6, 1.6, 72.0, 38.4)] {
        let built = pit(corner, 0.01).build();
        let found = built.site.hollows(Existing, built.id("lot-like"), &[]).unwrap();
        assert_eq!(found.len(), 1, "{corner}");
        close("depth", found[0].depth.value().si(), depth, 1e-9);
        close("its spread", found[0].depth.spread().si(), 0.01 * libm::sqrt(2.0), 1e-9);
        close("area", found[0].area.value().si(), area, 1e-9);
        close("volume", found[0].volume.value().si(), volume, 1e-9);
        let deepest = built.site.deepest(Existing, built.id("lot-like"), &[]);
        close("deepest", deepest.value().si(), depth, 1e-9);
    }
}

#[test]
fn an_inlet_empties_the_hollow_it_stands_in() {
    let built = pit(1.0, 0.01).build();
    let found = built.site.hollows(Existing, built.id("lot-like"), &[built.id("grate")]).unwrap();
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn ground_that_drains_says_by_how_much() {
    // A plane of 1 % with one corner in its middle: 0.1 m above the lowest of the corners around it.
    let mut sheet = Sheet::new();
    for (x, y) in [
        (0.0, 0.0),
        (10.0, 0.0),
        (20.0, 0.0),
        (0.0, 10.0),
        (10.0, 10.0),
        (20.0, 10.0),
        (0.0, 20.0),
        (10.0, 20.0),
        (20.0, 20.0),
    ] {
        sheet.level(Existing, [x, y, 0.01 * x], (0.0, 0.02));
    }
    sheet.outline("lawn", &[[1.0, 1.0], [19.0, 1.0], [19.0, 19.0], [1.0, 19.0]], 0.0);
    let built = sheet.build();
    let deepest = built.site.deepest(Existing, built.id("lawn"), &[]);
    close("less than nothing", deepest.value().si(), -0.1, 1e-12);
    close("by two levels", deepest.spread().si(), 0.02 * libm::sqrt(2.0), 1e-6);
}

fn slope_with_house() -> Sheet {
    // 2 % down to the left, a house across the way.
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [40.0, 0.0], [40.0, 30.0], [0.0, 30.0]], &[], 0.0);
    sheet.outline("house", &[[12.0, 10.0], [20.0, 10.0], [20.0, 20.0], [12.0, 20.0]], 0.0).kind =
        at("dwelling".to_owned());
    for (x, y) in [
        (-5.0, -5.0),
        (45.0, -5.0),
        (45.0, 35.0),
        (-5.0, 35.0),
        (12.0, 10.0),
        (20.0, 10.0),
        (20.0, 20.0),
        (12.0, 20.0),
    ] {
        sheet.level(Existing, [x, y, 0.02 * x], (0.0, 0.02));
    }
    sheet.spot("above", [30.0, 15.0], 0.0);
    sheet.spot("beside", [30.0, 5.0], 0.0);
    sheet.spot("edge", [30.0, 10.02], 0.0);
    sheet.spot("outside", [80.0, 5.0], 0.0);
    sheet.spot("grate", [25.0, 5.0], 0.0);
    sheet.line("walk", &[[28.0, 0.0], [28.0, 30.0]], 1.0, 0.0).kind = at("walk".to_owned());
    sheet
}

fn outcome(built: &Built, from: &str, ends: &[&str]) -> Outcome {
    let ends: Vec<_> = ends.iter().map(|end| built.id(end)).collect();
    let courses = built.site.courses(Proposed, built.id(from), &ends, &[], false).expect("there is ground");
    courses[0].outcome
}

#[test]
fn water_is_followed_to_where_it_ends() {
    let built = slope_with_house().build_of_kinds();
    assert_eq!(outcome(&built, "above", &[]), Outcome::Building(built.id("house")));
    assert_eq!(outcome(&built, "beside", &[]), Outcome::Over(built.id("lot.d-a")));
    assert_eq!(outcome(&built, "beside", &["grate"]), Outcome::At(built.id("grate")));
    assert_eq!(outcome(&built, "outside", &[]), Outcome::Unknown);
    let walk = [built.id("walk")];
    let courses = built.site.courses(Proposed, built.id("beside"), &[], &walk, false).unwrap();
    assert_eq!(courses[0].over, walk);
    close("length", courses[0].length.value().si(), 30.0, 1e-9);
    close("fall", courses[0].fall.value().si(), 0.6, 1e-9);
}

#[test]
fn how_sure_it_is_that_water_keeps_clear_follows_from_the_levels() {
    let built = slope_with_house().build_of_kinds();
    let clear = |from: &str| built.site.keeps_clear(Proposed, built.id(from), built.id("house"));
    // Far from the edge of the house it is certain either way; at its edge it is not.
    assert!(clear("above").value().si() < -1.0);
    assert!(clear("beside").value().si() > 1.6, "{:?}", clear("beside").value());
    let edge = clear("edge");
    assert!(edge.value().si().abs() < 1.6, "{:?}", edge.value());
    close("in standard uncertainties", edge.spread().si(), 1.0, 1e-9);
    let exact = {
        let mut sheet = slope_with_house();
        sheet.layout.ground.levels.iter_mut().for_each(|level| level.error.clear());
        sheet.build_of_kinds()
    };
    let clear = exact.site.keeps_clear(Proposed, exact.id("beside"), exact.id("house"));
    assert_eq!((clear.value().si(), clear.spread().si()), (4.0, 0.0));
}

#[test]
fn the_lot_sheds_over_its_low_line() {
    let mut sheet = slope_with_house();
    sheet.plan.features.remove(0);
    sheet.layout.shapes.remove(0);
    let built = sheet.build_of_kinds();
    let lot = built.id("lot");
    let found = built.site.leaves_over(Proposed, lot).unwrap();
    let areas: Vec<f64> = found.iter().map(|(_, area)| area.value().si()).collect();
    let all = Area::from_square_metres(1200.0).square_metres();
    close("over the left line", areas[3], all, 0.01);
    close("over the right", areas[1], 0.0, 1e-9);
    let drained = built.site.drained_area(Proposed, lot, &[built.id("walk")]).unwrap();
    // Everything above the far edge of the walk.
    close("to the walk", drained[0].value().si(), (40.0 - 27.5) * 30.0, 0.02);
}

#[test]
fn water_that_is_lost_sight_of_keeps_clear_of_nothing() {
    // The levels end ten metres before the line that the water runs to.
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [40.0, 0.0], [40.0, 30.0], [0.0, 30.0]], &[], 0.0);
    for (x, y) in [(10.0, -5.0), (45.0, -5.0), (45.0, 35.0), (10.0, 35.0)] {
        sheet.level(Existing, [x, y, 0.02 * x], (0.0, 0.02));
    }
    sheet.spot("spout", [30.0, 5.0], 0.0);
    let built = sheet.build_of_kinds();
    let clear = |line: &str| built.site.keeps_clear(Proposed, built.id("spout"), built.id(line));
    let asked: Vec<String> = clear("lot.d-a").needs.into_iter().map(|need| need.what).collect();
    assert_eq!(asked, ["levels of the proposed ground at spout"]);
}
