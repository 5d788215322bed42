//! Contours: dashed as the ground lies, solid as it shall be, the heavy ones with their level written in a gap.

use std::collections::BTreeSet;

use groundrule_site::Site;
use groundrule_site::ground::ContourLine;
use groundrule_survey::Surface;

use super::super::clip::{Window, at, length, part};
use super::super::room::{Place, Room, text_width};
use super::super::sheet::Sheet;
use super::super::svg::{Paper, Svg};
use super::super::symbols::upright;
use super::Cover;
use super::interval::Interval;

/// The size of a figure along a contour.
const FIGURE: f64 = 1.9;
/// What stays free on both sides of a figure.
const FREE: f64 = 0.5;
/// From one figure to the next along a contour.
const REPEAT: f64 = 150.0;
/// A shorter piece of a contour than this is not drawn: it is a speck of where two surfaces part.
const SPECK: f64 = 1.2;
/// With fewer levels of heavy contours than this all contours are figured.
const FEW: usize = 3;

/// A piece of a contour on the sheet.
struct Line {
    class: &'static str,
    figure_class: &'static str,
    figure: String,
    heavy: bool,
    path: Vec<Paper>,
}

/// Draws the contours of both surfaces.
pub(super) fn draw(
    svg: &mut Svg,
    site: &Site,
    sheet: &Sheet,
    interval: Interval,
    window: Window,
    cover: &Cover,
    room: &mut Room,
) {
    let step = interval.length();
    let existing = site.ground(Surface::Existing).map(|ground| ground.contours(step)).unwrap_or_default();
    let proposed = site.new_contours(step);
    let drawn = |lines: Vec<ContourLine>, proposed: bool| -> Vec<Line> {
        lines.into_iter().flat_map(|line| on_sheet(&line, sheet, interval, window, proposed)).collect()
    };
    // What shall be has its figures first.
    let lines: Vec<Line> = drawn(proposed, true).into_iter().chain(drawn(existing, false)).collect();
    let long = lines.iter().filter(|line| line.heavy && length(&line.path) > 20.0);
    let heavy = long.map(|line| line.figure.as_str()).collect::<BTreeSet<&str>>().len();
    for line in &lines {
        let figured = line.heavy || heavy < FEW;
        one(svg, line, figured, cover, room);
    }
}

fn on_sheet(
    line: &ContourLine,
    sheet: &Sheet,
    interval: Interval,
    window: Window,
    proposed: bool,
) -> Vec<Line> {
    let closing = line.closed.then(|| line.path.first()).flatten();
    let path: Vec<Paper> = line.path.iter().chain(closing).map(|at| sheet.place(*at)).collect();
    let heavy = interval.is_heavy(line.level);
    let (class, figure_class) = match (proposed, heavy) {
        (false, false) => ("contour", "label contour-figure"),
        (false, true) => ("contour heavy", "label contour-figure"),
        (true, false) => ("contour new", "label contour-figure new"),
        (true, true) => ("contour new heavy", "label contour-figure new"),
    };
    let pieces = window.lines(&path).into_iter().filter(|piece| length(piece) >= SPECK);
    let figure = interval.figure(line.level);
    pieces.map(|path| Line { class, figure_class, figure: figure.clone(), heavy, path }).collect()
}

/// A line with its figures, each in a gap of its own.
fn one(svg: &mut Svg, line: &Line, figured: bool, cover: &Cover, room: &mut Room) {
    let total = length(&line.path);
    let (wide, high) = (text_width(&line.figure, FIGURE) + 2.0 * FREE, FIGURE + 0.4);
    let mut gaps: Vec<(f64, Place)> = Vec::new();
    if figured && total > wide * 2.5 {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a sheet is a metre wide")]
        let count = (total / REPEAT).floor().clamp(1.0, 20.0) as u32;
        for k in 0..count {
            let middle = (f64::from(k) + 0.5) / f64::from(count);
            let spread = 0.4 / f64::from(count);
            let tries = [0.0, 0.25, -0.25, 0.5, -0.5, 0.75, -0.75, 0.95, -0.95];
            let candidates: Vec<(f64, Place)> = tries
                .into_iter()
                .filter_map(|shift: f64| {
                    let along = (middle + shift * spread) * total;
                    Some((along, straight(&line.path, along, total, wide, shift.abs(), cover)?))
                })
                .collect();
            let Some(best) = room.best(candidates.iter().map(|(_, place)| *place), wide, high) else {
                continue;
            };
            gaps.extend(candidates.into_iter().find(|(_, place)| place.at == best.at));
        }
    }
    gaps.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mut from = 0.0;
    for (along, place) in &gaps {
        svg.polyline(line.class, &part(&line.path, from, along - wide / 2.0));
        svg.text(line.figure_class, place.at, place.turn, &line.figure);
        from = along + wide / 2.0;
    }
    svg.polyline(line.class, &part(&line.path, from, total));
}

/// A place for a figure where the line is nearly straight and nothing is built.
fn straight(path: &[Paper], along: f64, total: f64, wide: f64, worse: f64, cover: &Cover) -> Option<Place> {
    let (from, to) = (along - wide / 2.0, along + wide / 2.0);
    if from < 0.0 || to > total {
        return None;
    }
    let (a, b) = (at(path, from)?, at(path, to)?);
    let middle = a.middle(b);
    if a.distance(b) < wide * 0.94 || [a, middle, b].into_iter().any(|place| cover.hides(place)) {
        return None;
    }
    Some(Place { at: middle, turn: upright(libm::atan2(b.y - a.y, b.x - a.x).to_degrees()), worse })
}
