//! What the drawing itself takes up, so that names and numbers keep off it.

use groundrule_site::{Feature, Site};
use groundrule_survey::Shape;
use groundrule_units::Length;

use super::features::{band, length, places};
use super::relief;
use super::room::{Block, Room};
use super::sheet::Sheet;
use super::svg::Paper;

/// Takes the room of symbols, and marks every line as better not crossed.
pub(crate) fn claim(site: &Site, sheet: &Sheet, room: &mut Room) {
    for (_, feature) in site.features().filter(|(_, f)| sheet.shows(f) && !is_bare(site, f)) {
        one(site, feature, sheet, room);
    }
}

/// What takes no room of its own: lot lines have theirs elsewhere, and the ground may be written on.
fn is_bare(site: &Site, feature: &Feature) -> bool {
    matches!(feature.kind.as_str(), "lot" | "lot-line" | "grading-limit" | "contour")
        || relief::shows(site, feature)
}

fn one(site: &Site, feature: &Feature, sheet: &Sheet, room: &mut Room) {
    let is = |kind: &str| site.kinds().is_a(&feature.kind, kind);
    match &feature.shape {
        Shape::Outline { ring, holes } => {
            for ring in std::iter::once(ring).chain(holes) {
                let mut ring = places(sheet, ring);
                ring.extend(ring.first().copied());
                room.draw_line(&ring);
            }
        }
        Shape::Line { path, width } => {
            let path = places(sheet, path);
            if *width > Length::ZERO {
                let mut sides = band(&path, sheet.length(*width) / 2.0);
                sides.extend(sides.first().copied());
                room.draw_line(&sides);
            } else {
                room.draw_line(&path);
            }
            if is("gate")
                && let (Some(hinge), Some(latch)) = (path.first(), path.last())
            {
                room.take(Block::around(hinge.middle(*latch), hinge.distance(*latch), 3.0));
            }
        }
        Shape::Disc { centre, radius } => circle(room, sheet.place(centre.at), sheet.length(*radius)),
        Shape::Spot(point) => {
            let at = sheet.place(point.at);
            if is("tree") || is("shrub") {
                let crown = length(feature, "spread").or_else(|| length(feature, "mature_spread"));
                circle(room, at, crown.map_or(1.5, |crown| sheet.length(crown) / 2.0));
                room.take(Block::around(at, 1.6, 1.6));
            } else {
                room.take(Block::around(at, 3.6, 3.6));
            }
        }
        Shape::Absent => {}
    }
}

fn circle(room: &mut Room, centre: Paper, radius: f64) {
    let points: Vec<Paper> = (0..=32)
        .map(|i| {
            let (sin, cos) = libm::sincos(f64::from(i) * std::f64::consts::TAU / 32.0);
            centre.plus(radius * cos, radius * sin)
        })
        .collect();
    room.draw_line(&points);
}
