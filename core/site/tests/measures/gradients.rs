//! Error terms against differences: nudge each source, measure again, compare.

use groundrule_site::{Measured, Terms};
use groundrule_survey::{ErrorTerms, Point, Shape};

use crate::sheet::{Built, Sheet, metres};

const STEP: f64 = 0.01;
/// Small, so that no two places tie for the nearest.
pub(crate) const SIGMA: f64 = 1e-3;

/// The site as it would be had one source erred by so many standard deviations.
fn nudged(sheet: &mut Sheet, source: u32, by: f64) -> Built {
    let before = sheet.layout.clone();
    let nudge = |point: &mut Point| {
        let (mut x, mut y) = (0.0, 0.0);
        match &point.error {
            ErrorTerms::Exact => {}
            ErrorTerms::Own { source: first, sigma } => {
                x += if first.0 == source { sigma.metres() } else { 0.0 };
                y += if first.0 + 1 == source { sigma.metres() } else { 0.0 };
            }
            terms => {
                for term in terms.terms().iter().filter(|term| term.source.0 == source) {
                    x += term.x.metres();
                    y += term.y.metres();
                }
            }
        }
        point.at.x = point.at.x + metres(x * by);
        point.at.y = point.at.y + metres(y * by);
    };
    for shape in &mut sheet.layout.shapes {
        match shape {
            Shape::Outline { ring, holes } => {
                ring.iter_mut().chain(holes.iter_mut().flatten()).for_each(nudge);
            }
            Shape::Line { path, .. } => path.iter_mut().for_each(nudge),
            Shape::Spot(point) | Shape::Disc { centre: point, .. } => nudge(point),
            Shape::Absent => {}
        }
    }
    for lot in &mut sheet.layout.lots {
        let pole = lot.pole.iter_mut();
        lot.ring
            .iter_mut()
            .chain(lot.sides.iter_mut().flat_map(|side| &mut side.path))
            .chain(pole)
            .for_each(nudge);
    }
    let built = sheet.build();
    sheet.layout = before;
    built
}

#[track_caller]
pub(crate) fn check(sheet: &mut Sheet, measure: impl Fn(&Built) -> Measured) {
    let measured = measure(&sheet.build());
    assert!(measured.needs.is_empty(), "{:?}", measured.needs);
    let expected: Terms = measured.terms().clone();
    assert!(!expected.is_empty(), "nothing to compare");
    for source in 0..200 {
        let (more, less) = (measure(&nudged(sheet, source, STEP)), measure(&nudged(sheet, source, -STEP)));
        let slope = (more.value().si() - less.value().si()) / (2.0 * STEP);
        let term = expected.iter().find(|(s, _)| s.0 == source).map_or(0.0, |(_, term)| *term);
        assert!((slope - term).abs() < 1e-6, "source {source}: term {term}, difference {slope}");
    }
}

fn scene() -> Sheet {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [20.0, 1.0], [19.0, 31.0], [-1.0, 30.0]], &[], SIGMA);
    sheet.outline(
        "house",
        &[[5.0, 8.0], [13.0, 9.0], [12.0, 18.0], [9.0, 17.5], [8.5, 13.0], [4.2, 12.5]],
        SIGMA,
    );
    sheet.outline("shed", &[[11.0, 7.0], [15.1, 7.4], [14.8, 10.6], [11.3, 10.2]], SIGMA);
    sheet.outline("bay", &[[17.5, 20.0], [20.8, 21.0], [20.1, 24.0], [17.0, 23.0]], SIGMA);
    sheet.disc("oak", [6.0, 19.0], 2.7, SIGMA);
    sheet.disc("elm", [9.1, 20.3], 1.9, SIGMA);
    sheet.line("walk", &[[2.0, -1.0], [3.0, 9.0], [8.0, 21.0]], 1.2, SIGMA);
    sheet.line("wire", &[[-2.0, 6.0], [9.0, 14.0], [22.0, 9.2]], 0.0, SIGMA);
    sheet.spot("post", [1.0, 3.0], SIGMA);
    sheet
}

#[test]
fn distances() {
    for (a, b) in [
        ("oak", "elm"),
        ("post", "house"),
        ("walk", "bay"),
        ("oak", "shed"),
        ("wire", "bay"),
        ("post", "walk"),
    ] {
        check(&mut scene(), |built| built.clearance(a, b));
    }
}

#[test]
fn depths() {
    for (a, b) in [("house", "shed"), ("oak", "elm"), ("wire", "lot"), ("walk", "oak")] {
        check(&mut scene(), |built| {
            let clearance = built.clearance(a, b);
            assert!(clearance.value().si() < 0.0, "{a} and {b} are meant to meet: {:?}", clearance.value());
            clearance
        });
    }
}

#[test]
fn yards() {
    for line in ["lot.a-b", "lot.b-c", "lot.c-d", "lot.d-a"] {
        check(&mut scene(), |built| built.yard("house", line));
        check(&mut scene(), |built| built.yard("bay", line));
        check(&mut scene(), |built| built.yard("elm", line));
    }
}

#[test]
fn areas() {
    for one in ["house", "lot", "walk"] {
        check(&mut scene(), |built| built.site.area(built.id(one)));
    }
    let all = ["house", "shed", "bay", "oak", "elm", "walk"];
    check(&mut scene(), |built| built.site.covered(&all.map(|name| built.id(name)), None));
    check(&mut scene(), |built| built.site.covered(&all.map(|name| built.id(name)), Some(built.id("lot"))));
}

#[test]
fn overlaps() {
    for (a, b) in [("house", "shed"), ("oak", "elm"), ("walk", "oak"), ("bay", "lot")] {
        check(&mut scene(), |built| built.site.overlap(built.id(a), built.id(b)));
    }
}

#[test]
fn lengths() {
    for one in ["house", "wire"] {
        check(&mut scene(), |built| built.site.length(built.id(one)));
    }
    for (line, area) in
        [("wire", "house"), ("wire", "lot"), ("walk", "oak"), ("wire", "walk"), ("walk", "lot")]
    {
        check(&mut scene(), |built| built.site.length_inside(built.id(line), built.id(area)));
    }
}

#[test]
fn widths() {
    for one in ["bay", "shed"] {
        check(&mut scene(), |built| built.site.drawn_width(built.id(one)));
    }
}

#[test]
fn lots() {
    for measure in crate::lots::MEASURES {
        check(&mut crate::lots::askew(SIGMA), measure);
    }
    // Without a rear line the farthest place decides; and from the end of a pole.
    let mut sheet = crate::lots::askew(SIGMA);
    for side in &mut sheet.layout.lots[0].sides[3..5] {
        side.role = Some(groundrule_plan::Role::Side);
    }
    check(&mut sheet, crate::lots::MEASURES[1]);
    check(&mut sheet, crate::lots::MEASURES[2]);
    let mut sheet = crate::lots::askew(SIGMA);
    sheet.layout.lots[0].pole = Some(sheet.layout.lots[0].ring[2].clone());
    check(&mut sheet, crate::lots::MEASURES[1]);
    check(&mut sheet, crate::lots::MEASURES[2]);
}

#[test]
fn buildable() {
    check(&mut crate::lots::askew(SIGMA), crate::lots::buildable_askew);
}
