//! Places constructed from what is drawn. Figures in feet; T57 to T59 are worked cases of the rule catalogue, S2 is the
//! corner lot of the invented scenarios.

use groundrule_plan::Role;
use groundrule_site::region::Draft;
use groundrule_site::{FeatureId, Measured, Site};
use groundrule_survey::Shape;
use groundrule_units::Length;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::gradients;
use crate::sheet::{Built, Sheet, close};

pub(crate) const FOOT: f64 = 0.3048;

fn feet(value: f64) -> Length {
    Length::from_feet(value)
}

pub(crate) fn in_feet(places: &[[f64; 2]]) -> Vec<[f64; 2]> {
    places.iter().map(|[x, y]| [x * FOOT, y * FOOT]).collect()
}

/// A corner lot of 80 by 100 with streets south and west, turned by an angle about its south-west corner.
fn corner_lot(turn: f64, sigma: f64) -> Sheet {
    let mut sheet = Sheet::new();
    let ring = [[0.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0]].map(|at| turned(at, turn));
    let roles = [Some(Role::Front), None, None, Some(Role::StreetSide)];
    sheet.lot("lot", &in_feet(&ring), &roles, sigma);
    sheet
}

fn turned([x, y]: [f64; 2], turn: f64) -> [f64; 2] {
    let (sin, cos) = libm::sincos(turn);
    [x * cos - y * sin, x * sin + y * cos]
}

fn square_feet(amount: &Measured) -> f64 {
    amount.value().si() / (FOOT * FOOT)
}

fn feet_of(amount: &Measured) -> f64 {
    amount.value().si() / FOOT
}

fn make(built: &mut Built, draft: impl Fn(&Site) -> Option<Draft>) -> Option<FeatureId> {
    let draft = draft(&built.site)?;
    built.site.region(&draft)
}

/// The triangle at the corner of two lines, with these legs.
fn corner(built: &mut Built, lines: (&str, &str), legs: (f64, f64)) -> Option<FeatureId> {
    let pair = (built.id(lines.0), built.id(lines.1));
    make(built, |site| site.corner_sight(pair, (feet(legs.0), feet(legs.1)), false))
}

fn strip(built: &mut Built, line: &str, depth: f64) -> Option<FeatureId> {
    let line = built.id(line);
    make(built, |site| site.strip(line, feet(depth)))
}

fn around(built: &mut Built, of: &str, reach: f64, within_lot: bool) -> Option<FeatureId> {
    let of = built.id(of);
    make(built, |site| site.around(of, feet(reach), within_lot))
}

fn drive(built: &mut Built, lines: (&str, &str), legs: (f64, f64)) -> Vec<FeatureId> {
    let pair = (built.id(lines.0), built.id(lines.1));
    let drafts = built.site.drive_sight(pair, feet(legs.0), feet(legs.1));
    drafts.iter().filter_map(|draft| built.site.region(draft)).collect()
}

const STREETS: (&str, &str) = ("lot.d-a", "lot.a-b");

#[test]
fn a_corner_triangle_is_the_triangle_of_its_legs() {
    for turn in [0.0, 0.3, 1.1, 2.9, 4.0] {
        let check = |legs: (f64, f64), area: f64| {
            let mut built = corner_lot(turn, 0.0).build();
            let region = corner(&mut built, STREETS, legs).expect("a triangle");
            close(&format!("{legs:?} turned {turn}"), square_feet(&built.site.area(region)), area, 1e-9);
            let feature = built.site.feature(region).expect("it is there");
            assert_eq!((feature.kind.as_str(), feature.lot), ("region", Some(built.id("lot"))));
        };
        // T57.
        check((25.0, 25.0), 312.5);
        check((10.0, 40.0), 200.0);
        check((80.0, 80.0), 3200.0);
        // Longer than the lot is wide: cut by its east line.
        check((100.0, 100.0), 4800.0);
    }
}

#[test]
fn the_hypotenuse_stands_off_its_corner() {
    for turn in [0.0, 0.7, 3.3] {
        let check = |at: [f64; 2], clearance: f64| {
            let mut sheet = corner_lot(turn, 0.0);
            let [x, y] = turned(at, turn);
            sheet.spot("post", [x * FOOT, y * FOOT], 0.0);
            let mut built = sheet.build();
            let region = corner(&mut built, STREETS, (25.0, 25.0)).expect("a triangle");
            close(
                &format!("{at:?}"),
                feet_of(&built.site.clearance(built.id("post"), region)),
                clearance,
                1e-9,
            );
        };
        // T57: 17.68 from the corner to the hypotenuse, so as much from the far corner of the square to it.
        let across = 25.0 / libm::sqrt(2.0);
        check([25.0, 25.0], across);
        // T59: inside by 10 + 10 against 25, outside by 15 + 12.
        check([10.0, 10.0], -5.0 / libm::sqrt(2.0));
        check([15.0, 12.0], 2.0 / libm::sqrt(2.0));
        check([12.5, 12.5], 0.0);
    }
}

/// Scenario S2: fence, hedge and drive of a corner lot.
#[test]
fn what_stands_in_the_sight_areas_of_the_corner_lot() {
    let mut sheet = corner_lot(0.0, 0.0);
    sheet.line("fence", &in_feet(&[[0.5, 8.0], [0.5, 75.0]]), 0.0, 0.0);
    sheet.line("hedge", &in_feet(&[[3.0, 0.5], [25.0, 0.5]]), 0.0, 0.0);
    sheet.outline("drive", &in_feet(&[[0.0, 76.0], [25.0, 76.0], [25.0, 94.0], [0.0, 94.0]]), 0.0);
    let mut built = sheet.build();
    let sight = corner(&mut built, STREETS, (25.0, 25.0)).expect("a triangle");
    let (fence, hedge) = (built.id("fence"), built.id("hedge"));
    close("fence at the corner", feet_of(&built.site.length_inside(fence, sight)), 16.5, 1e-9);
    close("hedge at the corner", feet_of(&built.site.length_inside(hedge, sight)), 21.5, 1e-9);
    let beside = drive(&mut built, ("drive", "lot.d-a"), (10.0, 10.0));
    let inside: Vec<f64> = beside.iter().map(|&it| feet_of(&built.site.length_inside(fence, it))).collect();
    assert_eq!(inside.len(), 2, "one each side");
    close("fence at the drive", inside.iter().sum(), 8.5, 1e-9);
    // The north one is cut by the north line, 6 from the drive: a triangle of 10 less one of 4.
    let areas = beside.iter().map(|&it| square_feet(&built.site.area(it)));
    close("both", areas.sum(), 50.0 + 50.0 - 8.0, 1e-9);
    assert_eq!(drive(&mut built, ("drive", "lot.a-b"), (10.0, 10.0)), [], "it goes to the west street");
}

#[test]
fn a_drive_reaches_its_line_or_not() {
    let check = |what: &str, add: &dyn Fn(&mut Sheet), expected: &[f64]| {
        for turn in [0.0, 0.4, 2.2] {
            let mut sheet = corner_lot(turn, 0.0);
            add(&mut sheet);
            for place in sheet.layout.shapes.iter_mut().flat_map(Shape::points_mut) {
                let [x, y] = turned([place.at.x.metres(), place.at.y.metres()], turn);
                (place.at.x, place.at.y) = (Length::from_metres(x), Length::from_metres(y));
            }
            let mut built = sheet.build();
            let found = drive(&mut built, ("drive", "lot.a-b"), (10.0, 8.0));
            let mut areas: Vec<f64> = found.iter().map(|&it| square_feet(&built.site.area(it))).collect();
            areas.sort_by(f64::total_cmp);
            assert_eq!(areas.len(), expected.len(), "{what} turned {turn}: {areas:?}");
            areas.iter().zip(expected).for_each(|(shown, wanted)| close(what, *shown, *wanted, 1e-6));
        }
    };
    let from = |start: f64| {
        move |sheet: &mut Sheet| {
            let ring = [[30.0, start], [42.0, start], [42.0, 30.0], [30.0, 30.0]];
            sheet.outline("drive", &in_feet(&ring), 0.0);
        }
    };
    check("on the line", &from(0.0), &[40.0, 40.0]);
    check("into the street", &from(-12.0), &[40.0, 40.0]);
    check("half a foot short", &from(0.5), &[40.0, 40.0]);
    check("a foot and a half short", &from(1.5), &[]);
    check(
        "a line with a width",
        &|sheet| {
            sheet.line("drive", &in_feet(&[[36.0, -3.0], [36.0, 14.0], [50.0, 40.0]]), 12.0 * FOOT, 0.0);
        },
        &[40.0, 40.0],
    );
    check(
        "a line without a width",
        &|sheet| {
            sheet.line("drive", &in_feet(&[[36.0, -3.0], [36.0, 40.0]]), 0.0, 0.0);
        },
        &[],
    );
    check(
        "near the corner",
        &|sheet| {
            sheet.outline("drive", &in_feet(&[[4.0, -5.0], [16.0, -5.0], [16.0, 30.0], [4.0, 30.0]]), 0.0);
        },
        &[40.0 - 6.0 * 4.8 / 2.0, 40.0],
    );
    check(
        "flared in the street only",
        &|sheet| {
            let ring = [[26.0, -6.0], [46.0, -6.0], [42.0, 0.0], [42.0, 30.0], [30.0, 30.0], [30.0, 0.0]];
            sheet.outline("drive", &in_feet(&ring), 0.0);
        },
        &[40.0, 40.0],
    );
    check(
        "along the line",
        &|sheet| {
            sheet.outline("drive", &in_feet(&[[30.0, 20.0], [50.0, 20.0], [50.0, 30.0], [30.0, 30.0]]), 0.0);
        },
        &[],
    );
}

#[test]
fn a_strip_of_a_rectangle_is_its_width_by_the_depth() {
    let check = |depth: f64, area: f64| {
        for turn in [0.0, 0.5, 2.0] {
            let mut sheet = Sheet::new();
            let ring = [[0.0, 0.0], [60.0, 0.0], [60.0, 110.0], [0.0, 110.0]].map(|at| turned(at, turn));
            sheet.lot("lot", &in_feet(&ring), &[], 0.0);
            let mut built = sheet.build();
            let region = strip(&mut built, "lot.a-b", depth).expect("a strip");
            close(&format!("{depth} turned {turn}"), square_feet(&built.site.area(region)), area, 1e-9);
        }
    };
    check(25.0, 1500.0);
    check(0.5, 30.0);
    check(110.0, 6600.0);
    check(111.0, 6600.0);
}

#[test]
fn a_strip_goes_round_the_ends_of_its_line() {
    // On the line's left the lot widens by 45 degrees at both ends: a sector of an eighth of a circle at each.
    let mut sheet = Sheet::new();
    sheet.lot("lot", &in_feet(&[[0.0, 0.0], [40.0, 0.0], [100.0, 60.0], [-60.0, 60.0]]), &[], 0.0);
    let mut built = sheet.build();
    let region = strip(&mut built, "lot.a-b", 20.0).expect("a strip");
    let sectors = 2.0 * std::f64::consts::PI * 400.0 / 8.0;
    close("area", square_feet(&built.site.area(region)), 800.0 + sectors, 2e-4);
}

#[test]
fn a_strip_may_come_in_parts() {
    // A lot round three sides of a court 20 wide: from the north of its east arm, a depth of 25 reaches over the court.
    let west = [[20.0, 20.0], [20.0, 80.0], [0.0, 80.0]];
    let ring =
        [&[[0.0, 0.0], [60.0, 0.0], [60.0, 80.0], [40.0, 80.0], [40.0, 60.0], [40.0, 20.0]][..], &west]
            .concat();
    let mut sheet = Sheet::new();
    sheet.lot("lot", &in_feet(&ring), &[], 0.0);
    sheet.spot("post", [10.0 * FOOT, 70.0 * FOOT], 0.0);
    sheet.line("fence", &in_feet(&[[0.0, 70.0], [20.0, 70.0]]), 0.0, 0.0);
    let mut built = sheet.build();
    let region = strip(&mut built, "lot.d-e", 25.0).expect("a strip");
    let (post, fence) = (built.id("post"), built.id("fence"));
    close("post", feet_of(&built.site.clearance(post, region)), 5.0, 1e-6);
    close("fence", feet_of(&built.site.length_inside(fence, region)), 5.0, 1e-6);
    assert_eq!(built.site.near(&[region], &[post], feet(5.1)), [(region, post)]);
    assert_eq!(built.site.near(&[post, fence], &[region], feet(4.9)), [(fence, region)]);
    let lot = built.id("lot");
    let whole = built.site.area(region).value().si();
    close("it is on the lot", built.site.overlap(region, lot).value().si(), whole, 1e-9);
}

#[test]
fn the_ground_around_things() {
    let pi = std::f64::consts::PI;
    let check = |what: &str, add: &dyn Fn(&mut Sheet), reach: f64, area: f64| {
        let mut sheet = Sheet::new();
        add(&mut sheet);
        let mut built = sheet.build();
        let region = around(&mut built, "it", reach, false).expect(what);
        // Chords stay within a millimetre of the arc, and inside of it.
        close(what, square_feet(&built.site.area(region)), area, 2e-3);
        let clearance = built.site.clearance(built.id("it"), region).value().si();
        assert!(clearance <= 0.0, "{what} is taken in");
    };
    let ring = in_feet(&[[0.0, 0.0], [12.0, 0.0], [12.0, 8.0], [0.0, 8.0]]);
    check(
        "a box",
        &|sheet| {
            sheet.outline("it", &ring, 0.0);
        },
        5.0,
        96.0 + 200.0 + 25.0 * pi,
    );
    check(
        "a circle",
        &|sheet| {
            sheet.disc("it", [3.0, 3.0], 2.0 * FOOT, 0.0);
        },
        3.0,
        25.0 * pi,
    );
    check(
        "a spot",
        &|sheet| {
            sheet.spot("it", [3.0, 3.0], 0.0);
        },
        4.0,
        16.0 * pi,
    );
    let path = in_feet(&[[0.0, 0.0], [10.0, 0.0]]);
    check(
        "a line",
        &|sheet| {
            sheet.line("it", &path, 0.0, 0.0);
        },
        2.0,
        40.0 + 4.0 * pi,
    );
    // A strip with flat ends, 10 by 1.
    check(
        "a wide line",
        &|sheet| {
            sheet.line("it", &path, FOOT, 0.0);
        },
        2.0,
        10.0 + 44.0 + 4.0 * pi,
    );
    // A bend of a right angle: two bands of 10 by 4 that share a square of 2, an outer quarter circle, half circles.
    let bent = in_feet(&[[0.0, 0.0], [10.0, 0.0], [10.0, 10.0]]);
    check(
        "a bent line",
        &|sheet| {
            sheet.line("it", &bent, 0.0, 0.0);
        },
        2.0,
        80.0 - 4.0 + 5.0 * pi,
    );
    // An inner corner of an L adds nothing and takes nothing.
    let l = in_feet(&[[0.0, 0.0], [20.0, 0.0], [20.0, 10.0], [10.0, 10.0], [10.0, 20.0], [0.0, 20.0]]);
    check(
        "an L",
        &|sheet| {
            sheet.outline("it", &l, 0.0);
        },
        1.0,
        300.0 + 80.0 - 1.0 + 5.0 * pi / 4.0,
    );
}

#[test]
fn the_ground_around_is_cut_by_the_lot_if_asked() {
    let mut sheet = corner_lot(0.0, 0.0);
    sheet.disc("pond", [0.0, 50.0 * FOOT], 4.0 * FOOT, 0.0).lot =
        Some(crate::sheet::at(groundrule_plan::Name("lot".to_owned())));
    sheet.disc("tree", [500.0, 0.0], 1.0, 0.0);
    let mut built = sheet.build();
    let whole = around(&mut built, "pond", 6.0, false).expect("it is drawn");
    let half = around(&mut built, "pond", 6.0, true).expect("it is on a lot");
    let (whole, half) = (built.site.area(whole).value().si(), built.site.area(half).value().si());
    close("half of it is on the lot", 2.0 * half, whole, 1e-4);
    assert_eq!(around(&mut built, "tree", 6.0, true), None, "it is on no lot");
}

#[test]
fn a_cut_corner_counts_as_where_its_lines_would_meet() {
    let check = |what: &str, ring: &[[f64; 2]], lines: (&str, &str), area: f64| {
        let mut sheet = Sheet::new();
        sheet.lot("lot", &in_feet(ring), &[], 0.0);
        let mut built = sheet.build();
        for lines in [lines, (lines.1, lines.0)] {
            let region = corner(&mut built, lines, (25.0, 25.0)).expect(what);
            close(what, square_feet(&built.site.area(region)), area, 1e-9);
        }
    };
    // Ten off each side of a square corner: the triangle less that of ten.
    let cut = [[10.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0], [0.0, 10.0]];
    check("cut", &cut, ("lot.a-b", "lot.d-e"), 312.5 - 50.0);
    // At the cut itself one leg runs 25 along it, past its end and out of the lot, as far west as north: the whole
    // triangle less the part west of the line, whose base on that line ends where the hypotenuse crosses it.
    let far = 25.0 / libm::sqrt(2.0);
    let base = far * 35.0 / (25.0 + far) - 10.0;
    check("the cut", &cut, ("lot.a-b", "lot.e-a"), 25.0 * far / 2.0 - base * (far - 10.0) / 2.0);
}

#[test]
fn neighbouring_lines_are_told_in_ring_order() {
    let built = corner_lot(0.0, 0.0).build();
    let corners = built.site.lot_corners(built.id("lot"));
    let names = |id: FeatureId| built.site.feature(id).expect("it is there").id.0.clone();
    let told: Vec<String> = corners.iter().map(|(a, b)| format!("{} {}", names(*a), names(*b))).collect();
    assert_eq!(told, ["lot.a-b lot.b-c", "lot.b-c lot.c-d", "lot.c-d lot.d-a", "lot.d-a lot.a-b"]);
    assert_eq!(built.site.lot_corners(built.id("lot.a-b")), []);
}

/// A length in feet whose region would be next to nothing, and that is none.
const NEXT_TO_NOTHING: f64 = 1e-300;

#[test]
fn what_makes_no_region() {
    let mut sheet = corner_lot(0.0, 0.0);
    sheet.lot("next", &in_feet(&[[80.0, 0.0], [160.0, 0.0], [160.0, 100.0], [80.0, 100.0]]), &[], 0.0);
    sheet.outline("drive", &in_feet(&[[10.0, 0.0], [20.0, 0.0], [20.0, 20.0], [10.0, 20.0]]), 0.0);
    sheet.add("stated", Shape::Absent);
    let mut built = sheet.build();
    for size in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e9, NEXT_TO_NOTHING] {
        assert_eq!(strip(&mut built, "lot.a-b", size), None, "{size}");
        assert_eq!(corner(&mut built, STREETS, (size, 25.0)), None, "{size}");
        assert_eq!(corner(&mut built, STREETS, (25.0, size)), None, "{size}");
        assert_eq!(drive(&mut built, ("drive", "lot.a-b"), (size, 10.0)), [], "{size}");
        assert_eq!(drive(&mut built, ("drive", "lot.a-b"), (10.0, size)), [], "{size}");
        // Next to nothing around a drive is the drive.
        if size.to_bits() != NEXT_TO_NOTHING.to_bits() {
            assert_eq!(around(&mut built, "drive", size, false), None, "{size}");
        }
    }
    let mut none = |a: &str, b: &str| assert_eq!(corner(&mut built, (a, b), (25.0, 25.0)), None, "{a} {b}");
    none("lot.a-b", "lot.c-d");
    none("lot.a-b", "lot.a-b");
    none("lot.a-b", "next.b-c");
    none("lot.a-b", "lot");
    none("drive", "lot.a-b");
    none("stated", "lot.a-b");
    assert_eq!(strip(&mut built, "lot", 25.0), None);
    assert_eq!(strip(&mut built, "drive", 25.0), None);
    assert_eq!(around(&mut built, "stated", 25.0, false), None);
    let nobody = FeatureId(4_000_000_000);
    assert!(built.site.strip(nobody, feet(1.0)).is_none());
    assert!(built.site.around(nobody, feet(1.0), false).is_none());
    assert!(built.site.corner_sight((nobody, nobody), (feet(1.0), feet(1.0)), false).is_none());
    assert!(built.site.drive_sight((nobody, nobody), feet(1.0), feet(1.0)).is_empty());
    // No width of a street is stated.
    let pair = (built.id(STREETS.0), built.id(STREETS.1));
    assert!(built.site.corner_sight(pair, (feet(75.0), feet(75.0)), true).is_none());
}

#[test]
fn a_region_is_of_its_own_clone_only() {
    let mut built = corner_lot(0.0, 0.0).build();
    let other = built.site.clone();
    let region = strip(&mut built, "lot.a-b", 10.0).expect("a strip");
    assert!(built.site.is_region(region) && !other.is_region(region));
    assert!(other.feature(region).is_none());
    assert!(!built.site.is_region(built.id("lot")));
    assert_eq!(built.site.len(), other.len());
    assert!(built.site.features().all(|(id, _)| id != region));
    // A region of a region is a region too.
    let wider = make(&mut built, |site| site.around(region, feet(5.0), true)).expect("around it");
    close("wider", square_feet(&built.site.area(wider)), 80.0 * 15.0, 1e-6);
}

type Measure = fn(&Site, FeatureId, FeatureId) -> Measured;

/// What is measured to a region changes with the points it was made from as it says.
#[test]
fn regions_err_with_the_points_they_are_made_from() {
    let scene = || {
        let mut sheet = Sheet::new();
        let ring = [[0.0, 0.0], [24.0, 1.0], [26.0, 31.0], [-2.0, 29.0]];
        sheet.lot("lot", &ring, &[], gradients::SIGMA);
        sheet.spot("post", [9.0, 9.5], gradients::SIGMA);
        sheet.spot("tree", [2.0, 3.1], gradients::SIGMA);
        sheet.line("fence", &[[0.9, 1.8], [1.2, 16.0], [14.0, 16.5]], 0.0, gradients::SIGMA);
        sheet.outline("drive", &[[11.0, -2.0], [15.0, -2.0], [15.4, 9.0], [11.2, 9.1]], gradients::SIGMA);
        sheet.outline("house", &[[6.0, 12.0], [14.0, 12.5], [13.5, 20.0], [6.3, 19.0]], gradients::SIGMA);
        sheet.line("walk", &[[4.0, 22.0], [12.0, 24.0], [20.0, 22.0]], 1.2, gradients::SIGMA);
        sheet
    };
    let check = |draft: &dyn Fn(&Built) -> Option<Draft>, to: &str, measure: Measure| {
        gradients::check(&mut scene(), |built| {
            let mut site = built.site.clone();
            let region = site.region(&draft(built).expect("a draft")).expect("a region");
            measure(&site, built.id(to), region)
        });
    };
    let metres = Length::from_metres;
    let corner = |built: &Built| {
        let pair = (built.id("lot.d-a"), built.id("lot.a-b"));
        built.site.corner_sight(pair, (metres(7.0), metres(9.0)), false)
    };
    check(&corner, "post", Site::clearance);
    check(&corner, "tree", Site::clearance);
    check(&corner, "fence", Site::length_inside);
    check(&corner, "lot", Site::overlap);
    check(&corner, "post", |site, _, region| site.area(region));
    let strip = |built: &Built| built.site.strip(built.id("lot.d-a"), metres(7.5));
    check(&strip, "post", Site::clearance);
    check(&strip, "fence", Site::length_inside);
    check(&strip, "house", Site::overlap);
    check(&strip, "post", |site, _, region| site.area(region));
    let beside = |built: &Built| {
        let pair = (built.id("drive"), built.id("lot.a-b"));
        built.site.drive_sight(pair, metres(4.0), metres(5.0)).into_iter().next()
    };
    check(&beside, "post", Site::clearance);
    check(&beside, "post", |site, _, region| site.area(region));
    let around = |of: &'static str| move |built: &Built| built.site.around(built.id(of), metres(1.7), true);
    check(&around("house"), "post", Site::clearance);
    check(&around("house"), "fence", Site::length_inside);
    check(&around("walk"), "house", Site::clearance);
    check(&around("fence"), "house", Site::overlap);
}

/// A lot whose corners lie round the origin, at these distances.
fn star(reach: &[f64]) -> Vec<[f64; 2]> {
    let step = 2.0 * std::f64::consts::PI / reach.len() as f64;
    let corner = |(i, reach): (usize, &f64)| {
        let (sin, cos) = libm::sincos(step * i as f64);
        [reach * cos, reach * sin]
    };
    reach.iter().enumerate().map(corner).collect()
}

fn starred(reach: &[f64]) -> Built {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &star(reach), &[], 0.0);
    sheet.disc("pond", [1.0, 0.5], 1.5, 0.0).lot =
        Some(crate::sheet::at(groundrule_plan::Name("lot".to_owned())));
    sheet.build()
}

fn off([x, y]: [f64; 2], [a, b]: [f64; 2], [c, d]: [f64; 2]) -> f64 {
    let along = (c - a, d - b);
    let t = ((x - a) * along.0 + (y - b) * along.1) / (along.0 * along.0 + along.1 * along.1);
    let t = t.clamp(0.0, 1.0);
    libm::hypot(x - a - along.0 * t, y - b - along.1 * t)
}

/// Between the places of a grid, in metres.
const STEP: f64 = 0.4;

fn holds(ring: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let crossed = |i: usize| {
        let ([a, b], [c, d]) = (ring[i], ring[(i + 1) % ring.len()]);
        (b > y) != (d > y) && x < a + (c - a) * (y - b) / (d - b)
    };
    (0..ring.len()).filter(|&i| crossed(i)).count() % 2 == 1
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, rng_seed: RngSeed::Fixed(4), ..ProptestConfig::default() })]

    #[test]
    fn a_region_never_leaves_the_lot(
        reach in prop::collection::vec(5.0..40.0, 3..9),
        (depth, first, second) in (0.1..30.0, 0.1..60.0, 0.1..60.0),
    ) {
        let mut built = starred(&reach);
        let lot = built.id("lot");
        let lines: Vec<FeatureId> = built.site.lines_of(lot).collect();
        let metres = Length::from_metres;
        let mut drafts: Vec<Draft> = lines.iter().filter_map(|&line| built.site.strip(line, metres(depth))).collect();
        for corner in built.site.lot_corners(lot) {
            drafts.extend(built.site.corner_sight(corner, (metres(first), metres(second)), false));
        }
        drafts.extend(built.site.around(built.id("pond"), metres(depth), true));
        prop_assert!(drafts.len() > lines.len());
        for draft in drafts {
            let Some(region) = built.site.region(&draft) else { continue };
            let (own, shared) = (built.site.area(region), built.site.overlap(region, lot));
            let (own, shared) = (own.value().si(), shared.value().si());
            prop_assert!(own > 0.0 && (own - shared).abs() < 1e-6 * own.max(1.0), "{own} {shared}");
        }
    }

    #[test]
    fn a_strip_holds_what_is_near_its_line(
        reach in prop::collection::vec(5.0..40.0, 3..8),
        depth in 0.5..25.0,
        which in 0_usize..8,
    ) {
        let mut built = starred(&reach);
        let ring = star(&reach);
        let i = which % ring.len();
        let line = built.site.lines_of(built.id("lot")).nth(i).expect("it has as many lines as corners");
        let draft = built.site.strip(line, Length::from_metres(depth)).expect("it is drawn");
        let region = built.site.region(&draft).expect("a strip");
        let shown = built.site.area(region).value().si();
        // The middles of the squares of a grid that are in the lot and near the line.
        let count = |held: &mut u32, x: i32, y: i32| {
            let p = [(f64::from(x) + 0.5) * STEP, (f64::from(y) + 0.5) * STEP];
            *held += u32::from(off(p, ring[i], ring[(i + 1) % ring.len()]) <= depth && holds(&ring, p));
        };
        let mut held = 0;
        (-100..100).for_each(|x| (-100..100).for_each(|y| count(&mut held, x, y)));
        let sampled = f64::from(held) * STEP * STEP;
        let around = built.site.length(region).value().si();
        prop_assert!((shown - sampled).abs() < 0.05 * around * STEP + 2.0, "{shown} {sampled} around {around}");
    }
}
