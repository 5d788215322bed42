//! Slopes, levels and falls of the ground, with how they err.
//!
//! Surfaces and spreads of section 4.1 and 1.8 of the numeric oracles (analytic, constructed; closed forms written out).

use groundrule_plan::Gravity;
use groundrule_site::Measured;
use groundrule_site::ground::{Figure, WallFall};
use groundrule_survey::Surface::{Existing, Proposed};
use groundrule_units::Length;

use crate::sheet::{Built, Sheet, at, close, metres};

const WHOLE: (Length, Length) = (Length::ZERO, Length::ZERO);

/// A square of ground of 40 m with these levels at its corners, anticlockwise from the origin.
fn square(levels: [f64; 4]) -> Sheet {
    let mut sheet = Sheet::new();
    let corners = [[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]];
    for ([x, y], z) in corners.into_iter().zip(levels) {
        sheet.level(Existing, [x, y, z], (0.0, 0.0));
    }
    sheet
}

/// The value of a measure that lacks nothing.
#[track_caller]
fn value(measured: &Measured) -> f64 {
    assert_eq!(measured.needs, []);
    measured.value().si()
}

fn lacking(measured: &Measured) -> Vec<String> {
    measured.needs.iter().map(|need| need.what.clone()).collect()
}

#[test]
fn a_plane_has_one_slope_wherever_it_is_measured() {
    // S1: z = 100 + 0.02 x - 0.03 y has the slope 0.036055512755.
    let plane = |x: f64, y: f64| 100.0 + 0.02 * x - 0.03 * y;
    let mut sheet = square([plane(0.0, 0.0), plane(40.0, 0.0), plane(40.0, 40.0), plane(0.0, 40.0)]);
    sheet.levels(&[[13.0, 7.0, plane(13.0, 7.0)], [22.0, 31.0, plane(22.0, 31.0)]]);
    sheet.outline("lawn", &[[3.0, 3.0], [37.0, 5.0], [30.0, 33.0], [8.0, 20.0]], 0.0);
    sheet.line("walk", &[[5.0, 5.0], [35.0, 5.0]], 1.2, 0.0);
    sheet.line("drive", &[[5.0, 5.0], [5.0, 35.0]], 3.0, 0.0);
    sheet.spot("oak", [10.0, 20.0], 0.0);
    let built = sheet.build();
    let slope = 0.036_055_512_754_639_9;
    for figure in [Figure::Least, Figure::Greatest, Figure::Mean] {
        close("over", value(&built.site.slope_over(Existing, built.id("lawn"), figure)), slope, 1e-12);
    }
    let along = |name, figure| value(&built.site.slope_along(Existing, built.id(name), figure, WHOLE));
    let across = |name, figure| value(&built.site.slope_across(Existing, built.id(name), figure));
    // Rising to the right falls negatively; to the right of a way to the right is down the sheet.
    close("along the walk", along("walk", Figure::Mean), -0.02, 1e-12);
    close("its steepest", along("walk", Figure::Steepest), 0.02, 1e-12);
    close("across the walk", across("walk", Figure::Mean), -0.03, 1e-12);
    close("along the drive", along("drive", Figure::Least), 0.03, 1e-12);
    close("across the drive", across("drive", Figure::Greatest), -0.02, 1e-12);
    close("no break", value(&built.site.slope_break(Existing, built.id("walk"), metres(1.0))), 0.0, 1e-12);
    close(
        "at the oak",
        value(&built.site.level(Existing, built.id("oak"), Figure::Mean)),
        plane(10.0, 20.0),
        1e-12,
    );
    close(
        "lowest of the lawn",
        value(&built.site.level(Existing, built.id("lawn"), Figure::Least)),
        plane(8.0, 20.0),
        1e-12,
    );
    close(
        "highest",
        value(&built.site.level(Existing, built.id("lawn"), Figure::Greatest)),
        plane(37.0, 5.0),
        1e-12,
    );
}

#[test]
fn ground_faces_the_way_it_falls() {
    // S1: the downslope azimuth of z = 100 + 0.02 x - 0.03 y is 326.309932474 degrees, counted from up the sheet.
    let plane = |x: f64, y: f64| 100.0 + 0.02 * x - 0.03 * y;
    let mut sheet = square([plane(0.0, 0.0), plane(40.0, 0.0), plane(40.0, 40.0), plane(0.0, 40.0)]);
    sheet.outline("lawn", &[[3.0, 3.0], [37.0, 5.0], [30.0, 33.0], [8.0, 20.0]], 0.0);
    let asked = |sheet: &Sheet| sheet.build().site.aspect(Existing, sheet.build().id("lawn"));
    assert_eq!(lacking(&asked(&sheet).unwrap()), ["which way north lies on the sheet"]);
    for (clockwise, expected) in
        [(0.0, 326.309_932_474_020_23), (18.0, 308.309_932_474_020_23), (-60.0, 26.309_932_474_020_23)]
    {
        let clockwise_of_up = groundrule_units::Angle::from_degrees(clockwise);
        sheet.plan.site.north = Some(groundrule_plan::North {
            clockwise_of_up,
            text: String::new(),
            span: groundrule_plan::Span::default(),
        });
        close("aspect", asked(&sheet).unwrap().value().si().to_degrees(), expected, 1e-9);
    }
    let mut level = square([1.0; 4]);
    level.outline("lawn", &[[3.0, 3.0], [37.0, 5.0], [30.0, 33.0]], 0.0);
    level.plan.site.north.clone_from(&sheet.plan.site.north);
    assert_eq!(asked(&level), None);
}

#[test]
fn a_ridge_breaks_the_slope() {
    // S2 and S6: 10 % down to both sides of the line x = 20.
    let mut sheet = square([5.0, 5.0, 5.0, 5.0]);
    sheet.levels(&[[20.0, 0.0, 7.0], [20.0, 40.0, 7.0]]);
    sheet.breakline("ridge", &[4, 5]);
    sheet.line("walk", &[[2.0, 10.0], [38.0, 10.0]], 1.2, 0.0);
    sheet.line("half", &[[2.0, 10.0], [22.0, 10.0]], 1.2, 0.0);
    let built = sheet.build();
    let along = |figure| value(&built.site.slope_along(Existing, built.id("walk"), figure, WHOLE));
    close("up first", along(Figure::Least), -0.1, 1e-12);
    close("then down", along(Figure::Greatest), 0.1, 1e-12);
    close("from end to end", along(Figure::Mean), 0.0, 1e-12);
    close("steepest", along(Figure::Steepest), 0.1, 1e-12);
    close("break", value(&built.site.slope_break(Existing, built.id("walk"), metres(3.0))), 0.2, 1e-12);
    // A stretch of two metres beyond the ridge is joined to the one before when three are asked for.
    close(
        "first ten",
        value(&built.site.slope_along(Existing, built.id("half"), Figure::Mean, (metres(0.0), metres(10.0)))),
        -0.1,
        1e-12,
    );
    close(
        "last two",
        value(&built.site.slope_along(Existing, built.id("half"), Figure::Mean, (metres(18.0), WHOLE.1))),
        0.1,
        1e-12,
    );
}

#[test]
fn slopes_err_as_their_levels_and_places_do() {
    // S9: 0.5 m in 10 m; each level errs by 0.02, the distance by 0.04 in all: u = 0.002835489376.
    let mut sheet = Sheet::new();
    sheet.level(Existing, [0.0, 0.0, 1.0], (0.0, 0.02));
    sheet.level(Existing, [10.0, 0.0, 0.5], (0.0, 0.02));
    sheet.level(Existing, [2.0, 8.0, 0.9], (0.0, 0.02));
    sheet.add(
        "run",
        groundrule_survey::Shape::Line {
            path: vec![crate::sheet::exact(0.0, 0.0), crate::sheet::shared(10.0, 0.0, &[(900, 0.04, 0.0)])],
            width: Length::ZERO,
        },
    );
    // The level moves with the point of the line, so that only the distance errs.
    sheet.layout.ground.levels[1].at = crate::sheet::shared(10.0, 0.0, &[(900, 0.04, 0.0)]);
    sheet.outline("part", &[[0.0, 0.0], [10.0, 0.0], [2.0, 8.0]], 0.0);
    let built = sheet.build();
    let slope = built.site.slope_along(Existing, built.id("run"), Figure::Mean, WHOLE);
    close("S9", value(&slope), 0.05, 1e-12);
    close("S9 spread", slope.spread().si(), 0.002_835_489_375_751_565, 1e-9);
    // S10: the facet's slope errs by 0.0028284271 from the levels alone; its moved corner adds its part.
    let facet = built.site.slope_over(Existing, built.id("part"), Figure::Mean);
    close("S10", value(&facet), 0.05, 1e-12);
    let aside = 0.05 * 0.04 / 10.0;
    close("S10 spread", facet.spread().si(), libm::hypot(0.002_828_427_124_653_583, aside), 1e-9);
}

/// A house of 10 m by 8 m in the middle of ground that falls by these shares to its right and left, levels at its
/// corners and at the corners of the lot.
fn house(right: f64, left: f64, sigma: f64) -> Sheet {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], &[], 0.0);
    let ring = [[15.0, 16.0], [25.0, 16.0], [25.0, 24.0], [15.0, 24.0]];
    sheet.outline("house", &ring, 0.0).kind = at("dwelling".to_owned());
    for [x, y] in ring {
        sheet.level(Existing, [x, y, 10.0], (0.0, sigma));
    }
    for y in [0.0, 40.0] {
        for (x, z) in [(0.0, 10.0 - 15.0 * left), (15.0, 10.0), (25.0, 10.0), (40.0, 10.0 - 15.0 * right)] {
            sheet.level(Existing, [x, y, z], (0.0, sigma));
        }
    }
    sheet
}

fn falls(built: &Built, run: f64, barriers: &[&str], hard: &[&str]) -> Vec<WallFall> {
    let ids = |names: &[&str]| names.iter().map(|name| built.id(name)).collect::<Vec<_>>();
    built.site.falls(Proposed, built.id("house"), metres(run), &ids(barriers), &ids(hard))
}

#[test]
fn the_ground_is_followed_away_from_each_wall() {
    let built = house(0.055, 0.03, 0.0).build_of_kinds();
    let found = falls(&built, 3.048, &[], &[]);
    let by_side: Vec<(usize, f64)> = found.iter().map(|fall| (fall.side, value(&fall.slope))).collect();
    assert_eq!(by_side.iter().map(|(side, _)| *side).collect::<Vec<_>>(), [0, 1, 2, 3]);
    close("right", by_side[1].1, 0.055, 1e-9);
    close("left", by_side[3].1, 0.03, 1e-9);
    close("front", by_side[0].1, 0.0, 1e-9);
    close("fall of the right side", value(&found[1].fall), 0.055 * 3.048, 1e-9);
    assert!(found.iter().all(|fall| fall.hard.is_none() && fall.cut_short.is_none()));
}

#[test]
fn a_nearer_line_or_barrier_ends_the_run_and_paving_is_followed_by_itself() {
    let mut sheet = house(0.05, 0.05, 0.0);
    sheet.line("swale", &[[27.0, 0.0], [27.0, 40.0]], 0.0, 0.01).kind = at("swale".to_owned());
    sheet.outline("patio", &[[10.0, 18.0], [15.0, 18.0], [15.0, 20.0], [10.0, 20.0]], 0.0).kind =
        at("patio".to_owned());
    let built = sheet.build_of_kinds();
    let found = falls(&built, 3.0, &["swale"], &["patio"]);
    let right = found.iter().find(|fall| fall.side == 1).unwrap();
    assert_eq!(right.cut_short, Some(built.id("swale")));
    close("run to the swale", value(&right.run), 2.0, 1e-12);
    close("as well known as the swale", right.run.spread().si(), 0.01 * libm::sqrt(0.5), 0.3);
    close("slope there", value(&right.slope), 0.05, 1e-9);
    let left: Vec<_> = found.iter().filter(|fall| fall.side == 3).map(|fall| fall.hard).collect();
    assert_eq!(left, [None, Some(built.id("patio"))]);
    // Twenty metres out there is nothing but the line of the lot, at fifteen.
    let far = falls(&built, 20.0, &[], &[]);
    let left = far.iter().find(|fall| fall.side == 3).unwrap();
    assert_eq!(left.cut_short, Some(built.id("lot.d-a")));
    close("run to the line", value(&left.run), 15.0, 1e-12);
}

#[test]
fn corners_without_levels_are_asked_for() {
    let mut sheet = house(0.05, 0.05, 0.0);
    sheet.layout.ground.levels.remove(1);
    let ne = crate::sheet::exact(25.0, 16.0);
    sheet.layout.named.insert("house.se".to_owned(), ne);
    let built = sheet.build_of_kinds();
    let found = falls(&built, 3.0, &[], &[]);
    let asked = |side: usize| lacking(&found.iter().find(|fall| fall.side == side).unwrap().slope);
    assert_eq!(asked(0), ["level of the proposed ground at corner se of house"]);
    assert_eq!(asked(1), ["level of the proposed ground at corner se of house"]);
    assert_eq!(asked(3), [] as [String; 0]);
}

#[test]
fn no_levels_and_too_few_are_asked_for() {
    let mut sheet = Sheet::new();
    sheet.outline("lawn", &[[3.0, 3.0], [37.0, 5.0], [30.0, 33.0]], 0.0);
    sheet.levels(&[[0.0, 0.0, 1.0], [10.0, 0.0, 1.0]]);
    let built = sheet.build();
    let over = built.site.slope_over(Existing, built.id("lawn"), Figure::Greatest);
    assert_eq!(lacking(&over), ["levels of the existing ground"]);
    sheet.levels(&[[4.0, 4.0, 1.2]]);
    let built = sheet.build();
    let over = built.site.slope_over(Existing, built.id("lawn"), Figure::Greatest);
    assert_eq!(lacking(&over), ["levels of the existing ground at lawn"]);
}

#[test]
fn proposed_ground_takes_the_place_of_existing_inside_it_only() {
    let mut sheet = square([10.0, 10.0, 10.0, 10.0]);
    sheet.levels(&[[20.0, 20.0, 12.0]]);
    for [x, y] in [[15.0, 15.0], [25.0, 15.0], [25.0, 25.0], [15.0, 25.0]] {
        sheet.level(Proposed, [x, y, 9.0], (0.0, 0.0));
    }
    sheet.spot("middle", [20.0, 20.0], 0.0);
    sheet.spot("edge", [0.0, 0.0], 0.0);
    let built = sheet.build();
    let level = |which, name| value(&built.site.level(which, built.id(name), Figure::Mean));
    close("existing", level(Existing, "middle"), 12.0, 1e-12);
    close("proposed", level(Proposed, "middle"), 9.0, 1e-12);
    close("outside it stays", level(Proposed, "edge"), 10.0, 1e-12);
}

#[test]
fn lines_of_levels_that_cross_are_told() {
    let mut sheet = square([10.0, 10.0, 10.0, 10.0]);
    sheet.levels(&[[5.0, 20.0, 11.0], [35.0, 20.0, 11.0], [20.0, 5.0, 12.0], [20.0, 35.0, 12.0]]);
    sheet.breakline("c-11", &[4, 5]);
    sheet.breakline("c-12", &[6, 7]);
    let built = sheet.build();
    let told: Vec<_> =
        built.remarks.iter().map(|remark| (remark.code, remark.gravity, remark.message.as_str())).collect();
    let message = "Two lines of levels of the existing ground cross: `c-11` and `c-12`, and their levels differ there by 1.000 m.";
    assert_eq!(told, [("data::ground-lines-cross", Gravity::Wrong, message)]);
    assert_eq!(built.remarks[0].spots, [(metres(20.0), metres(20.0))]);
}

#[test]
fn a_level_in_a_building_is_told_and_left_out() {
    let mut sheet = house(0.05, 0.05, 0.0);
    sheet.level(Existing, [20.0, 20.0, 99.0], (0.0, 0.0));
    let built = sheet.build_of_kinds();
    assert_eq!(
        built.remarks.iter().map(|remark| remark.code).collect::<Vec<_>>(),
        ["data::level-in-building"]
    );
    close("all the same", value(&falls(&built, 3.0, &[], &[])[1].slope), 0.05, 1e-9);
}

#[test]
fn earth_is_what_lies_between_the_two_surfaces() {
    // S8: the plane z = 1 + 0.1 x + 0.1 y against level 2 over ten by ten: cut and fill of 100/6 each.
    let mut sheet = Sheet::new();
    let square = [[0.0, 0.0], [10.0, 0.0], [10.0, 10.0], [0.0, 10.0]];
    for ([x, y], z) in square.into_iter().zip([1.0, 2.0, 3.0, 2.0]) {
        sheet.level(Existing, [x, y, z], (0.0, 0.01));
        sheet.level(Proposed, [x, y, 2.0], (0.0, 0.0));
    }
    sheet.outline("plot", &square, 0.0);
    let earth = sheet.build().site.earth(sheet.build().id("plot"));
    close("cut", value(&earth.cut), 100.0 / 6.0, 1e-9);
    close("fill", value(&earth.fill), 100.0 / 6.0, 1e-9);
    // Each cubic metre of cut hangs on the levels at the corners of the half that is cut: by the integrals of the
    // shares of its three corners, 25/3 - 25/3 - 100/6 of the square's hundred, each erring by 0.01.
    let net = earth.cut.subtract(&earth.fill).unwrap();
    let shares = [50.0 / 3.0, 100.0 / 3.0, 50.0 / 3.0, 100.0 / 3.0];
    let sum: f64 = shares.iter().map(|share| share * share).sum();
    let turned: f64 =
        [100.0 / 3.0, 50.0 / 3.0, 100.0 / 3.0, 50.0 / 3.0].iter().map(|share| share * share).sum();
    // Whichever diagonal the square has.
    let spread = net.spread().si();
    assert!(
        (spread - 0.01 * libm::sqrt(sum)).abs() < 1e-9 || (spread - 0.01 * libm::sqrt(turned)).abs() < 1e-9,
        "{spread}"
    );
}

#[test]
fn a_bank_is_a_face_with_foot_and_top() {
    // Two metres up in four, 50 %, with level ground before and behind.
    let mut sheet = Sheet::new();
    for (y, z) in [(0.0, 10.0), (20.0, 10.0), (24.0, 12.0), (40.0, 12.0)] {
        for x in [0.0, 30.0] {
            sheet.level(Existing, [x, y, z], (0.0, 0.01));
        }
    }
    sheet.breakline("foot", &[2, 3]);
    sheet.breakline("top", &[4, 5]);
    sheet.outline("plot", &[[1.0, 1.0], [29.0, 1.0], [29.0, 39.0], [1.0, 39.0]], 0.0);
    sheet.outline("shed", &[[10.0, 12.0], [14.0, 12.0], [14.0, 15.0], [10.0, 15.0]], 0.0);
    let built = sheet.build();
    let faces = |steeper: f64| {
        built.site.faces(Existing, built.id("plot"), groundrule_units::Ratio::from_fraction(steeper)).unwrap()
    };
    assert_eq!(faces(0.51).len(), 0);
    let found = faces(1.0 / 3.0);
    assert_eq!(found.len(), 1);
    close("height", value(&found[0].height), 2.0, 1e-12);
    close("its spread", found[0].height.spread().si(), 0.01 * libm::sqrt(2.0), 1e-9);
    close("slope", value(&found[0].slope), 0.5, 1e-12);
    let mut own = built.site.clone();
    let face = own.face(&found[0]);
    close("to the foot", value(&own.distance(built.id("shed"), face.toe)), 5.0, 1e-12);
    close("to the top", value(&own.distance(built.id("shed"), face.crest)), 9.0, 1e-12);
}

#[test]
fn contours_are_as_long_as_the_plane_has_them() {
    let mut sheet = square([0.0, 2.0, 2.0, 0.0]);
    sheet.outline("plot", &[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], 0.0);
    let built = sheet.build();
    // 5 %: a contour of 40 m for each 0.3 m of level, at 0.3 to 1.8.
    let length = built.site.contour_length(Existing, built.id("plot"), metres(0.3));
    close("contours", value(&length), 240.0, 1e-9);
}

#[test]
fn a_court_narrower_than_the_run_is_followed_to_the_wall_across() {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [40.0, 0.0], [40.0, 40.0], [0.0, 40.0]], &[], 0.0);
    let ring = [
        [10.0, 10.0],
        [30.0, 10.0],
        [30.0, 30.0],
        [21.2, 30.0],
        [21.2, 20.0],
        [18.8, 20.0],
        [18.8, 30.0],
        [10.0, 30.0],
    ];
    sheet.outline("house", &ring, 0.0).kind = at("dwelling".to_owned());
    for [x, y] in ring {
        sheet.level(Existing, [x, y, 10.0], (0.0, 0.0));
    }
    sheet.levels(&[[0.0, 0.0, 9.0], [40.0, 0.0, 9.0], [40.0, 40.0, 9.0], [0.0, 40.0, 9.0]]);
    let found = falls(&sheet.build_of_kinds(), 3.0, &[], &[]);
    assert!(found.iter().all(|fall| fall.slope.needs.is_empty()), "{found:?}");
    let across = found.iter().find(|fall| fall.side == 3).expect("the wall of the court");
    close("to the wall across", value(&across.run), 2.4, 1e-9);
}

#[test]
fn a_wall_on_the_lot_line_has_no_ground_of_its_own() {
    let mut sheet = house(0.05, 0.05, 0.0);
    sheet.layout.lots.clear();
    sheet.plan.lots.clear();
    sheet.lot("lot", &[[0.0, 0.0], [25.0, 0.0], [25.0, 40.0], [0.0, 40.0]], &[], 0.0);
    let sides: Vec<usize> =
        falls(&sheet.build_of_kinds(), 3.0, &[], &[]).iter().map(|fall| fall.side).collect();
    assert_eq!(sides, [0, 2, 3]);
}

#[test]
fn a_short_apron_is_a_stretch_before_its_break() {
    let mut sheet = Sheet::new();
    for x in [0.0, 10.0] {
        sheet.levels(&[[x, 0.0, 10.0], [x, 2.4, 10.048], [x, 14.4, 11.248]]);
    }
    sheet.breakline("break", &[1, 4]);
    sheet.line("drive", &[[5.0, 0.0], [5.0, 14.4]], 3.0, 0.0);
    let built = sheet.build();
    close(
        "2 % then 10 %",
        value(&built.site.slope_break(Existing, built.id("drive"), metres(3.3))),
        0.08,
        1e-9,
    );
}

#[test]
fn of_two_levels_at_a_corner_the_nearest_counts() {
    for swapped in [false, true] {
        let mut sheet = house(0.05, 0.05, 0.0);
        sheet.layout.ground.levels.remove(0);
        let mut near = [([15.05, 15.95], 10.0), ([14.85, 15.85], 99.0)];
        if swapped {
            near.reverse();
        }
        for ([x, y], z) in near {
            sheet.level(Existing, [x, y, z], (0.0, 0.0));
        }
        let built = sheet.build_of_kinds();
        close(
            "the house's lowest corner",
            value(&built.site.level(Existing, built.id("house"), Figure::Greatest)),
            10.0,
            1e-9,
        );
    }
}

#[test]
fn what_the_surface_does_not_reach_is_lacking() {
    let mut sheet = square([1.0, 2.0, 2.0, 1.0]);
    sheet.outline("far", &[[30.0, 10.0], [70.0, 10.0], [70.0, 20.0], [30.0, 20.0]], 0.0);
    sheet.plan.site.north = Some(groundrule_plan::North {
        clockwise_of_up: groundrule_units::Angle::ZERO,
        text: String::new(),
        span: groundrule_plan::Span::default(),
    });
    let built = sheet.build();
    let far = built.id("far");
    let asked = ["levels of the existing ground at far"];
    assert_eq!(lacking(&built.site.slope_over(Existing, far, Figure::Least)), asked);
    assert_eq!(lacking(&built.site.slope_over(Existing, far, Figure::Mean)), asked);
    assert_eq!(lacking(&built.site.level(Existing, far, Figure::Greatest)), asked);
    assert_eq!(lacking(&built.site.contour_length(Existing, far, metres(0.5))), asked);
    assert_eq!(lacking(&built.site.aspect(Existing, far).expect("it is asked for")), asked);
    assert_eq!(lacking(&built.site.earth(far).cut), ["levels of the proposed ground at far"]);
}
