//! Each feature by its kind and shape.

use groundrule_plan::Status;
use groundrule_site::{Fact, Feature, Site};
use groundrule_survey::{Point, Shape};
use groundrule_units::Length;

use super::pens::{self, AreaPen};
use super::relief;
use super::sheet::{Sheet, in_drawing_order, lies_flat};
use super::svg::{Paper, Svg};
use super::symbols;
use crate::marking;

/// Draws every feature that is on the sheet.
pub(crate) fn draw(svg: &mut Svg, site: &Site, sheet: &Sheet) {
    flat(svg, site, sheet);
    standing(svg, site, sheet);
}

/// Draws those that only cover the ground: lawns, beds, paving. They come first in the order of drawing.
pub(crate) fn flat(svg: &mut Svg, site: &Site, sheet: &Sheet) {
    some(svg, site, sheet, |feature| lies_flat(site, feature));
}

/// Draws all others.
pub(crate) fn standing(svg: &mut Svg, site: &Site, sheet: &Sheet) {
    some(svg, site, sheet, |feature| !lies_flat(site, feature));
}

fn some(svg: &mut Svg, site: &Site, sheet: &Sheet, wanted: impl Fn(&Feature) -> bool) {
    for (_, feature) in in_drawing_order(site) {
        if sheet.shows(feature) && feature.kind != "lot" && wanted(feature) && !relief::shows(site, feature) {
            one(svg, site, sheet, feature);
        }
    }
}

fn one(svg: &mut Svg, site: &Site, sheet: &Sheet, feature: &Feature) {
    let is = |kind: &str| site.kinds().is_a(&feature.kind, kind);
    let status = pens::status(feature.status);
    match &feature.shape {
        Shape::Outline { ring, holes } => {
            let rings: Vec<Vec<Paper>> =
                std::iter::once(ring).chain(holes).map(|r| places(sheet, r)).collect();
            let rings: Vec<&[Paper]> = rings.iter().map(Vec::as_slice).collect();
            if let Some(pen) = pens::bare(site.kinds(), &feature.kind) {
                svg.polygon(pen, &rings);
                return;
            }
            filled(svg, pens::area(site.kinds(), &feature.kind), status, &rings);
            if let Some(eave) = length(feature, "eave") {
                eaves(svg, rings[0], sheet.length(eave));
            }
            if feature.status == Some(Status::Remove) {
                crossed_out(svg, rings[0]);
            }
        }
        Shape::Line { path, width } => {
            let path = places(sheet, path);
            match () {
                () if is("lot-line") => svg.polyline("lot", &path),
                () if is("flow-arrow") => symbols::drawn_arrow(svg, &path),
                () if is("section-line") => symbols::section_line(svg, &path),
                () if is("gate") => symbols::gate(svg, status, &path),
                () if is("fence") => symbols::fence(svg, status, &path),
                () if is("utility") => {
                    let color = marking::color(site.kinds(), &feature.kind);
                    symbols::utility(svg, status, &path, is("overhead-wire"), color);
                }
                () if *width > Length::ZERO => {
                    let band = band(&path, sheet.length(*width) / 2.0);
                    filled(svg, pens::area(site.kinds(), &feature.kind), status, &[&band]);
                }
                () => {
                    let pen = pens::bare(site.kinds(), &feature.kind).unwrap_or("fence");
                    svg.polyline(&format!("{pen}{status}"), &path);
                }
            }
        }
        Shape::Disc { centre, radius } => {
            let pen = pens::area(site.kinds(), &feature.kind);
            let (centre, radius) = (sheet.place(centre.at), sheet.length(*radius));
            svg.circle(&format!("{}{status}", pen.outline), centre, radius);
            if let Some(hatch) = pen.hatch {
                svg.circle(hatch, centre, radius);
            }
        }
        Shape::Spot(point) => spot(svg, site, sheet, feature, sheet.place(point.at), status),
        Shape::Absent => {}
    }
}

fn spot(svg: &mut Svg, site: &Site, sheet: &Sheet, feature: &Feature, at: Paper, status: &str) {
    let is = |kind: &str| site.kinds().is_a(&feature.kind, kind);
    if is("tree") || is("shrub") {
        let now = length(feature, "spread").map(|spread| sheet.length(spread) / 2.0);
        let grown = length(feature, "mature_spread").map(|spread| sheet.length(spread) / 2.0);
        let trunk = length(feature, "trunk").map_or(0.35, |trunk| (sheet.length(trunk) / 2.0).max(0.35));
        symbols::plant(svg, status, at, now.or(grown).unwrap_or(1.5), grown, is("tree").then_some(trunk));
        if feature.status == Some(Status::Remove) {
            symbols::cross(svg, at, now.or(grown).unwrap_or(1.5) * 0.7);
        }
    } else if is("door") {
        symbols::mark(svg, at, "D");
    } else if is("window") {
        symbols::mark(svg, at, "W");
    } else if is("inlet") {
        symbols::inlet(svg, at);
    } else {
        symbols::utility_point(svg, at, marking::letters(site.kinds(), &feature.kind));
    }
}

fn filled(svg: &mut Svg, pen: AreaPen, status: &str, rings: &[&[Paper]]) {
    svg.polygon(&format!("{}{status}", pen.outline), rings);
    if let Some(hatch) = pen.hatch {
        svg.polygon(hatch, rings);
    }
}

/// A stated length of a feature.
pub(crate) fn length(feature: &Feature, name: &str) -> Option<Length> {
    match feature.facts.get(name)? {
        Fact::Amount(amount) => amount.value().length(),
        _ => None,
    }
}

pub(crate) fn places(sheet: &Sheet, points: &[Point]) -> Vec<Paper> {
    points.iter().map(|point| sheet.place(point.at)).collect()
}

/// The drip line of the eaves: the outline pushed outward, its corners kept sharp.
fn eaves(svg: &mut Svg, ring: &[Paper], out: f64) {
    let n = ring.len();
    if n < 3 || out <= 0.0 {
        return;
    }
    let corner = |i: usize| {
        let (a, b, c) = (ring[(i + n - 1) % n], ring[i], ring[(i + 1) % n]);
        let (u, v) = (normal(a, b), normal(b, c));
        let (sx, sy) = (u.0 + v.0, u.1 + v.1);
        let stretch = 2.0 / (sx * sx + sy * sy).max(0.5);
        b.plus(sx * stretch * out, sy * stretch * out)
    };
    let pushed: Vec<Paper> = (0..n).map(corner).collect();
    svg.polygon("eave", &[&pushed]);
}

/// The unit normal to the right of a line on the paper, which is outward for the rings of a site.
pub(crate) fn normal(a: Paper, b: Paper) -> (f64, f64) {
    let length = a.distance(b).max(1e-9);
    // Paper runs down while the site runs up, so an anticlockwise ring has its outside on this side.
    (-(b.y - a.y) / length, (b.x - a.x) / length)
}

fn crossed_out(svg: &mut Svg, ring: &[Paper]) {
    let low = ring.iter().copied().reduce(|a, b| Paper::new(a.x.min(b.x), a.y.min(b.y)));
    let high = ring.iter().copied().reduce(|a, b| Paper::new(a.x.max(b.x), a.y.max(b.y)));
    if let (Some(low), Some(high)) = (low, high) {
        svg.line("remove-cross", low, high);
        svg.line("remove-cross", Paper::new(low.x, high.y), Paper::new(high.x, low.y));
    }
}

/// The outline of a line with a width: its left side and back along its right, square at the ends.
pub(crate) fn band(path: &[Paper], half: f64) -> Vec<Paper> {
    let side = |i: usize, way: f64| {
        let before = if i > 0 { normal(path[i - 1], path[i]) } else { normal(path[i], path[i + 1]) };
        let after = if i + 1 < path.len() { normal(path[i], path[i + 1]) } else { before };
        let (sx, sy) = (before.0 + after.0, before.1 + after.1);
        let stretch = 2.0 / (sx * sx + sy * sy).max(0.5);
        path[i].plus(sx * stretch * half * way, sy * stretch * half * way)
    };
    if path.len() < 2 {
        return Vec::new();
    }
    let there = (0..path.len()).map(|i| side(i, 1.0));
    there.chain((0..path.len()).rev().map(|i| side(i, -1.0))).collect()
}
