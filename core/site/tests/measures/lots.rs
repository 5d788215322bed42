//! Frontage, width and depth of lots, and the ground that setbacks leave.

use groundrule_plan::Role;
use groundrule_site::Measured;

use crate::sheet::{Built, Sheet};

const F: Option<Role> = Some(Role::Front);
const S: Option<Role> = Some(Role::Side);
const R: Option<Role> = Some(Role::Rear);
const T: Option<Role> = Some(Role::StreetSide);

fn lot(ring: &[[f64; 2]], roles: &[Option<Role>]) -> Built {
    let mut sheet = Sheet::new();
    sheet.lot("lot", ring, roles, 0.0);
    sheet.build()
}

/// Frontage, width and depth, in metres.
#[track_caller]
fn check(ring: &[[f64; 2]], roles: &[Option<Role>], expected: [f64; 3]) {
    let built = lot(ring, roles);
    let own = built.id("lot");
    let found = [built.site.frontage(own), built.site.lot_width(own), built.site.lot_depth(own)];
    for (found, expected) in found.iter().zip(expected) {
        assert!(found.needs.is_empty(), "{:?}", found.needs);
        assert!((found.value().si() - expected).abs() < 1e-9, "{found:?} is not {expected}");
    }
}

#[test]
fn of_lots_worked_out_by_hand() {
    check(&[[0.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0]], &[F, S, R, T], [80.0, 80.0, 100.0]);
    // Seen from the other street, the same corner lot is 100 wide.
    check(&[[0.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0]], &[T, R, S, F], [100.0, 100.0, 80.0]);
    // A triangle: no rear line, so to its point; half as wide halfway.
    check(&[[0.0, 0.0], [80.0, 0.0], [40.0, 120.0]], &[F, S, S], [80.0, 40.0, 120.0]);
    // A trapezoid whose rear line is askew: 110 back at the middle; 51 + 55/6 wide at 55.
    check(
        &[[0.0, 0.0], [40.0, 0.0], [60.0, 100.0], [-20.0, 120.0]],
        &[F, S, R, S],
        [40.0, 51.0 + 55.0 / 6.0, 110.0],
    );
    // A front in two chords that bulges inward: its chord is 40 long, and the depth is taken from it.
    let bulge: &[[f64; 2]] = &[[0.0, 0.0], [20.0, 15.0], [40.0, 0.0], [40.0, 100.0], [0.0, 100.0]];
    check(bulge, &[F, F, S, R, S], [50.0, 40.0, 100.0]);
    // Fronts on two streets: seen from the shorter one, as far as the other.
    check(&[[0.0, 0.0], [50.0, 0.0], [60.0, 90.0], [-10.0, 90.0]], &[F, S, F, S], [50.0, 60.0, 90.0]);
    // The way back misses the rear line, so to the farthest place of it.
    check(
        &[[0.0, 0.0], [20.0, 0.0], [20.0, 40.0], [60.0, 40.0], [60.0, 90.0], [20.0, 100.0], [0.0, 60.0]],
        &[F, S, S, S, R, S, S],
        [20.0, 60.0, 100.0],
    );
    // An L: the stretch across that the way back crosses, not the other leg.
    let ell: &[[f64; 2]] =
        &[[0.0, 0.0], [30.0, 0.0], [30.0, 100.0], [-50.0, 100.0], [-50.0, 90.0], [0.0, 90.0]];
    check(ell, &[F, S, R, S, S, S], [30.0, 30.0, 100.0]);
}

#[test]
fn the_pole_of_a_flag_lot_counts_for_neither() {
    let mut sheet = Sheet::new();
    let ring = [[0.0, 0.0], [20.0, 0.0], [20.0, 120.0], [90.0, 120.0], [90.0, 220.0], [0.0, 220.0]];
    sheet.lot("lot", &ring, &[F, S, S, S, R, S], 0.0);
    sheet.layout.lots[0].pole = Some(sheet.layout.lots[0].ring[2].clone());
    let built = sheet.build();
    let own = built.id("lot");
    assert!((built.site.lot_depth(own).value().si() - 100.0).abs() < 1e-9);
    assert!((built.site.lot_width(own).value().si() - 90.0).abs() < 1e-9);
}

#[test]
fn without_a_front_nothing_is_known() {
    let built = lot(&[[0.0, 0.0], [80.0, 0.0], [80.0, 100.0]], &[S, S, None]);
    let own = built.id("lot");
    for measured in [built.site.frontage(own), built.site.lot_width(own), built.site.lot_depth(own)] {
        let needs: Vec<&str> = measured.needs.iter().map(|need| need.what.as_str()).collect();
        assert_eq!(needs, ["the front line of lot"]);
    }
}

#[test]
fn behind_a_rear_line_set_out_inside_is_beyond_it() {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [80.0, 0.0], [40.0, 120.0]], &[F, S, S], 0.0);
    let mut line = sheet.layout.lots[0].sides[2].clone();
    line.name = groundrule_plan::Name("pointed-rear".to_owned());
    line.path = sheet.ring(&[[45.0, 105.0], [35.0, 105.0]], 0.0);
    (line.role, line.inside) = (R, true);
    sheet.layout.lots[0].sides.push(line);
    sheet.outline("shed", &[[38.0, 90.0], [42.0, 90.0], [42.0, 96.0], [38.0, 96.0]], 0.0);
    sheet.outline("tip", &[[38.0, 100.0], [42.0, 100.0], [42.0, 108.0], [38.0, 108.0]], 0.0);
    let built = sheet.build();
    let yard = |name: &str| built.site.yard(built.id(name), built.id("lot.pointed-rear")).value().si();
    assert!((yard("shed") - 9.0).abs() < 1e-9);
    assert!((yard("tip") + 3.0).abs() < 1e-9);
    assert!((built.site.lot_depth(built.id("lot")).value().si() - 105.0).abs() < 1e-9);
}

/// A lot with an error of its own at each corner, everything askew.
pub(crate) fn askew(sigma: f64) -> Sheet {
    let mut sheet = Sheet::new();
    let ring = [[0.0, 0.0], [22.0, 3.0], [41.0, 1.0], [52.0, 60.0], [20.0, 71.0], [-9.0, 58.0]];
    sheet.lot("lot", &ring, &[F, F, S, R, R, S], sigma);
    sheet
}

/// What is measured of a lot.
pub(crate) const MEASURES: [fn(&Built) -> Measured; 3] = [
    |built| built.site.frontage(built.id("lot")),
    |built| built.site.lot_width(built.id("lot")),
    |built| built.site.lot_depth(built.id("lot")),
];

/// Setbacks of the lines of `lot` in ring order, in metres.
fn buildable(built: &Built, depths: &[f64]) -> groundrule_site::Buildable {
    let own = built.id("lot");
    let depth = |depth: &f64| Measured::exact(groundrule_units::Length::from_metres(*depth));
    let setbacks: Vec<_> = built.site.lines_of(own).zip(depths.iter().map(depth)).collect();
    built.site.buildable(own, &setbacks)
}

#[test]
fn the_ground_setbacks_leave() {
    #[track_caller]
    fn check(ring: &[[f64; 2]], depths: &[f64], expected: f64) {
        let found = buildable(&lot(ring, &[]), depths);
        assert!(
            (found.area.value().si() - expected).abs() < 1e-6,
            "{:?} is not {expected}",
            found.area.value()
        );
        // What is drawn is what is measured, but for the chords that stand for arcs.
        let drawn: f64 = found.area.marks.iter().map(size).sum();
        assert!((drawn - expected).abs() < 0.1, "{drawn} is drawn of {expected}");
    }
    let box_of: &[[f64; 2]] = &[[0.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0]];
    // A corner lot with 20 on both streets, 5 at the side and 10 at the rear.
    check(box_of, &[20.0, 5.0, 10.0, 20.0], (80.0 - 20.0 - 5.0) * (100.0 - 20.0 - 10.0));
    check(box_of, &[0.0, 0.0, 0.0, 0.0], 8000.0);
    check(box_of, &[60.0, 5.0, 60.0, 5.0], 0.0);
    // Round the inner corner of an L the setback is a quarter circle.
    let ell: &[[f64; 2]] = &[[0.0, 0.0], [60.0, 0.0], [60.0, 30.0], [30.0, 30.0], [30.0, 60.0], [0.0, 60.0]];
    let quarter = std::f64::consts::FRAC_PI_4 * 100.0;
    check(ell, &[0.0, 0.0, 10.0, 10.0, 0.0, 0.0], 2700.0 - 300.0 - 300.0 - quarter);
    // At the blunt end of a line it goes on as an arc of 45 degrees.
    let blunt: &[[f64; 2]] = &[[0.0, 0.0], [50.0, 0.0], [90.0, 40.0], [0.0, 40.0]];
    let whole = 70.0 * 40.0;
    check(blunt, &[10.0, 0.0, 0.0, 0.0], whole - 500.0 - std::f64::consts::PI * 100.0 / 8.0);
}

/// The area of a drawn region.
fn size(mark: &groundrule_site::Mark) -> f64 {
    let groundrule_site::Mark::Region(ring) = mark else { return 0.0 };
    let xy: Vec<(f64, f64)> = ring.iter().map(|p| (p.x.metres(), p.y.metres())).collect();
    let next = xy.iter().cycle().skip(1);
    xy.iter().zip(next).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum::<f64>() / 2.0
}

/// A front on a turning circle, in chords of 3 degrees: the setback is an arc about the same centre.
#[test]
fn a_setback_from_a_curve() {
    let mut ring: Vec<[f64; 2]> = (0..=20)
        .map(|i| {
            let (sin, cos) = libm::sincos((120.0 - 3.0 * f64::from(i)).to_radians());
            [15.0 * cos, 15.0 * sin]
        })
        .collect();
    ring.extend([[22.5, 38.971], [-22.5, 38.971]]);
    let mut roles = vec![F; 20];
    roles.extend([S, R, S]);
    let built = lot(&ring, &roles);
    let mut depths = vec![6.0; 20];
    depths.extend([0.0, 0.0, 0.0]);
    let found = buildable(&built, &depths);
    let exact = found.area.value().si();
    // Straight sides run on the radii: a sector of 60 degrees from 21 m on, less what the chords of the front cut off.
    let triangle = 22.5 * 38.971;
    let sector = std::f64::consts::PI * 21.0 * 21.0 / 6.0;
    assert!((exact - (triangle - sector)).abs() < 0.5, "{exact}");
    let drawn: f64 = found.area.marks.iter().map(size).sum();
    assert!((drawn - exact).abs() < 0.05, "{drawn} is drawn of {exact}");
    // Every chord has its stretch of the line.
    assert!(found.lines[..20].iter().all(|line| line.len() == 1));
}

#[test]
fn setback_lines_bound_what_is_left() {
    let built = lot(&[[0.0, 0.0], [80.0, 0.0], [80.0, 100.0], [0.0, 100.0]], &[]);
    let found = buildable(&built, &[20.0, 5.0, 10.0, 20.0]);
    let ends: Vec<Vec<(f64, f64)>> = found
        .lines
        .iter()
        .map(|pieces| {
            assert_eq!(pieces.len(), 1, "{pieces:?}");
            let mut ends: Vec<(f64, f64)> =
                [&pieces[0][0], &pieces[0][pieces[0].len() - 1]].map(|p| (p.x.metres(), p.y.metres())).into();
            ends.sort_by(|a, b| a.partial_cmp(b).expect("finite"));
            ends.iter().map(|(x, y)| ((x * 1e3).round() / 1e3, (y * 1e3).round() / 1e3)).collect()
        })
        .collect();
    assert_eq!(
        ends,
        [
            vec![(20.0, 20.0), (75.0, 20.0)],
            vec![(75.0, 20.0), (75.0, 90.0)],
            vec![(20.0, 90.0), (75.0, 90.0)],
            vec![(20.0, 20.0), (20.0, 90.0)],
        ]
    );
}

/// The buildable area of the skew lot, with a setback that is itself a share of the lot's width.
pub(crate) fn buildable_askew(built: &Built) -> Measured {
    let own = built.id("lot");
    let share = built.site.lot_width(own).scale(groundrule_units::Ratio::from_fraction(0.12));
    let lines: Vec<_> = built.site.lines_of(own).collect();
    let exact = |depth: f64| Measured::exact(groundrule_units::Length::from_metres(depth));
    let depths = [exact(7.0), exact(7.0), share.clone(), exact(9.0), exact(9.0), share];
    let setbacks: Vec<_> = lines.into_iter().zip(depths).collect();
    built.site.buildable_area(own, &setbacks)
}
