//! Findings at their places: what was measured, and a number whose shape tells the verdict.

use groundrule_review::{Finding, Retake, Review};
use groundrule_site::{Mark, Site};
use groundrule_units::{Dimension, Style};

use super::Written;
use super::dimensions;
use super::frame::{Frame, HALF};
use super::labels;
use super::markings;
use super::room::{Block, Place, Room, rings, text_width};
use super::sheet::{MARGIN, Sheet};
use super::svg::{Paper, Svg, escape};
use super::symbols::upright;

/// How far a number may stand from its place.
const REACH: [f64; 6] = [5.5, 8.0, 11.0, 15.0, 20.0, 26.0];

/// A finding to draw.
struct Numbered<'a> {
    number: u32,
    shape: Frame,
    label: String,
    marks: Vec<&'a Mark>,
    /// The measured length, to be written along its dimension.
    length: Option<String>,
    /// Where it belongs when it has no marks of its own.
    fallback: Option<Paper>,
}

/// Draws every numbered finding: at its place, or in a row of those that have none on the sheet.
pub(super) fn draw(
    svg: &mut Svg,
    site: &Site,
    review: &Review,
    sheet: &Sheet,
    style: Style,
    written: Written,
    room: &mut Room,
) {
    place(svg, &numbered(site, review, sheet, style, written), sheet, room);
}

/// Draws what is to be taken in the field, numbered from 1; what has no place has none here.
pub(super) fn draw_fieldwork(svg: &mut Svg, retakes: &[Retake], sheet: &Sheet, room: &mut Room) {
    let numbered = (1..).zip(retakes).filter(|(_, retake)| !retake.marks.is_empty());
    let all: Vec<Numbered<'_>> = numbered
        .map(|(number, retake)| Numbered {
            number,
            shape: Frame::Circle,
            label: retake.what.clone(),
            marks: retake.marks.iter().collect(),
            length: None,
            fallback: None,
        })
        .collect();
    place(svg, &all, sheet, room);
}

fn place(svg: &mut Svg, all: &[Numbered<'_>], sheet: &Sheet, room: &mut Room) {
    // Several findings on one place shade it once.
    let mut shaded: Vec<&Mark> = Vec::new();
    for mark in all.iter().flat_map(|finding| finding.marks.iter().copied()) {
        if matches!(mark, Mark::Region(_)) {
            if shaded.contains(&mark) {
                continue;
            }
            shaded.push(mark);
        }
        under(svg, mark, sheet, room);
    }
    let (placed, general): (Vec<_>, Vec<_>) = all
        .iter()
        .map(|finding| {
            let own = finding.marks.iter().find_map(|mark| anchor(mark, sheet));
            (finding, own.or(finding.fallback).filter(|at| room.holds(*at)))
        })
        .partition(|(_, anchor)| anchor.is_some());
    row(svg, general.iter().map(|(finding, _)| *finding), sheet, room);
    for (finding, anchor) in placed {
        if let Some(anchor) = anchor {
            number(svg, finding, anchor, room);
        }
    }
    for finding in all {
        length(svg, finding, sheet, room);
    }
}

/// What is about no one place, in rows at the top of the sheet.
fn row<'a>(
    svg: &mut Svg,
    general: impl ExactSizeIterator<Item = &'a Numbered<'a>>,
    sheet: &Sheet,
    room: &mut Room,
) {
    if general.len() == 0 {
        return;
    }
    let (left, step) = (MARGIN + 4.0, HALF * 3.0);
    let first = Paper::new(left + 34.0, MARGIN + 6.0);
    svg.text("note", Paper::new(left, first.y), 0.0, "About the whole plan:");
    room.take(Block::around(Paper::new(left + 15.0, first.y), 32.0, 4.0));
    let across = ((sheet.width - first.x - MARGIN) / step).floor().max(1.0);
    let (mut x, mut y) = (0.0, 0.0);
    for finding in general {
        if x >= across {
            (x, y) = (0.0, y + 1.0);
        }
        let at = first.plus(x * step, y * step);
        room.take(Block::around(at, step, step));
        bubble(svg, finding, None, at);
        x += 1.0;
    }
}

fn about_a_lot(site: &Site, finding: &Finding) -> bool {
    let subject = finding.features.first().and_then(|id| site.feature(*id));
    subject.is_some_and(|subject| subject.kind == "lot")
}

fn numbered<'a>(
    site: &Site,
    review: &'a Review,
    sheet: &Sheet,
    style: Style,
    written: Written,
) -> Vec<Numbered<'a>> {
    let rules = review.findings.iter().filter_map(|finding| {
        let fallback =
            finding.features.iter().find_map(|id| labels::middle(sheet, &site.feature(*id)?.shape));
        // The strip beside a line is drawn as such, whatever the verdict; shading all that covers a lot would hide it.
        let unshaded = markings::is_strip(site, finding) || about_a_lot(site, finding);
        Some(Numbered {
            number: finding.number?,
            shape: Frame::of(finding.verdict),
            label: format!("{}: {}", finding.title, finding.place),
            marks: finding
                .marks
                .iter()
                .filter(|mark| !unshaded || !matches!(mark, Mark::Region(_)))
                .collect(),
            length: measured_length(finding, style, written),
            fallback,
        })
    });
    let data = review.data.iter().filter_map(|finding| {
        Some(Numbered {
            number: finding.number?,
            shape: Frame::Circle,
            label: finding.remark.message.clone(),
            marks: finding.marks.iter().collect(),
            length: None,
            fallback: None,
        })
    });
    let tool = review.tool.iter().filter_map(|finding| {
        let label = format!("{} stopped", finding.blame.module);
        Some(Numbered {
            number: finding.number?,
            shape: Frame::Circle,
            label,
            marks: Vec::new(),
            length: None,
            fallback: None,
        })
    });
    let mut all: Vec<Numbered<'a>> = rules.chain(data).chain(tool).collect();
    all.sort_by_key(|finding| finding.number);
    all
}

fn measured_length(finding: &Finding, style: Style, written: Written) -> Option<String> {
    let shown = finding.shown.as_ref().filter(|_| finding.needs.is_empty())?;
    (shown.value.dimension() == Dimension::Length).then(|| written.length(shown.value, shown.spread, style))
}

/// What was measured, under the number.
fn under(svg: &mut Svg, mark: &Mark, sheet: &Sheet, room: &mut Room) {
    match mark {
        Mark::Spot(at) => svg.circle("dimension", sheet.place(*at), 0.9),
        Mark::Span(from, to) => {
            let (from, to) = (sheet.place(*from), sheet.place(*to));
            dimensions::string(svg, "finding-span", from, to);
            room.take_line(from, to, 1.6);
        }
        Mark::Region(ring) => {
            let ring: Vec<Paper> = ring.iter().map(|at| sheet.place(*at)).collect();
            svg.polygon("finding-region", &[&ring]);
        }
    }
}

fn anchor(mark: &Mark, sheet: &Sheet) -> Option<Paper> {
    match mark {
        Mark::Spot(at) => Some(sheet.place(*at)),
        Mark::Span(from, to) => Some(sheet.place(*from).middle(sheet.place(*to))),
        Mark::Region(ring) => {
            let n = ring.len() as f64;
            let sum = ring.iter().map(|at| sheet.place(*at)).reduce(|a, b| a.plus(b.x, b.y))?;
            Some(Paper::new(sum.x / n, sum.y / n))
        }
    }
}

fn number(svg: &mut Svg, finding: &Numbered<'_>, anchor: Paper, room: &mut Room) {
    let size = HALF * 2.5;
    let found = room.best(rings(anchor, &REACH, 16, 6.0), size, size);
    // In a crowded place it stands over other things.
    let at = found.map_or_else(|| anchor.plus(REACH[0], -REACH[0]), |place| place.at);
    bubble(svg, finding, Some(anchor), at);
}

/// The measured length, above the middle of its dimension where there is room for it.
fn length(svg: &mut Svg, finding: &Numbered<'_>, sheet: &Sheet, room: &mut Room) {
    let Some(text) = &finding.length else { return };
    let Some((from, to)) = finding.marks.iter().find_map(|mark| match mark {
        Mark::Span(from, to) => Some((sheet.place(*from), sheet.place(*to))),
        _ => None,
    }) else {
        return;
    };
    let (width, reach) = (text_width(text, 2.0), from.distance(to));
    if width + 1.0 > reach {
        return;
    }
    let turn = upright(libm::atan2(to.y - from.y, to.x - from.x).to_degrees());
    let (sin, cos) = libm::sincos(turn.to_radians());
    let middle = from.middle(to);
    let beside = |off: f64| Place { at: middle.plus(sin * off, -cos * off), turn, worse: 0.0 };
    if let Some(place) = room.best([beside(2.0), beside(-2.0)], width, 2.0) {
        svg.text("label small", place.at, place.turn, text);
    }
}

/// The number in its frame, linked to its card, with a leader from the place it is about.
fn bubble(svg: &mut Svg, finding: &Numbered<'_>, anchor: Option<Paper>, at: Paper) {
    let n = finding.number;
    let label = escape(&finding.label);
    svg.open(
        "a",
        &format!("href=\"#f{n}\" id=\"m{n}\" class=\"finding\" aria-label=\"Finding {n}: {label}\""),
    );
    // The leader stops at the frame, so that the number stays clear.
    if let Some(anchor) = anchor {
        let reach = anchor.distance(at);
        if reach > HALF * 1.2 {
            svg.line("finding-leader", anchor, anchor.towards(at, 1.0 - HALF / reach));
        }
    }
    finding.shape.numbered(svg, at, n);
    svg.close("a");
}
