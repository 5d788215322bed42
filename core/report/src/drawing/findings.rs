//! Findings at their places: what was measured, and a number whose shape tells the verdict.

use groundrule_review::{Review, Verdict};
use groundrule_site::{Mark, Site};

use super::dimensions;
use super::labels;
use super::room::{Block, Room, rings};
use super::sheet::{MARGIN, Sheet};
use super::svg::{Paper, Svg, escape, figure};

/// Half the size of a number's frame.
const HALF: f64 = 2.9;
/// How far a number may stand from its place.
const REACH: [f64; 6] = [5.5, 8.0, 11.0, 15.0, 20.0, 26.0];

/// A finding to draw.
struct Numbered<'a> {
    number: u32,
    shape: Frame,
    label: String,
    marks: Vec<&'a Mark>,
    /// Where it belongs when it has no marks of its own.
    fallback: Option<Paper>,
}

/// The frame of a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Frame {
    /// Fails.
    Square,
    /// Verify in field.
    Triangle,
    /// Missing.
    Diamond,
    /// The data itself.
    Circle,
}

impl Frame {
    /// The frame of a verdict.
    pub(crate) fn of(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Verify => Self::Triangle,
            Verdict::Missing => Self::Diamond,
            _ => Self::Square,
        }
    }

    fn class(self) -> &'static str {
        match self {
            Self::Square => "bubble verdict-fails",
            Self::Triangle => "bubble verdict-verify",
            Self::Diamond => "bubble verdict-missing",
            Self::Circle => "bubble",
        }
    }

    /// Writes the number in it; a triangle has its room further down.
    fn number(self, svg: &mut Svg, at: Paper, number: u32) {
        let down = if self == Self::Triangle { 0.55 } else { 0.1 };
        svg.text("bubble-number", at.plus(0.0, down), 0.0, &number.to_string());
    }

    /// Draws the frame around a place.
    pub(crate) fn draw(self, svg: &mut Svg, at: Paper) {
        let class = self.class();
        match self {
            Self::Square => svg.rect(class, at.plus(-HALF * 0.85, -HALF * 0.85), HALF * 1.7, HALF * 1.7),
            Self::Triangle => {
                let corners = [
                    at.plus(0.0, -HALF * 1.35),
                    at.plus(HALF * 1.3, HALF * 0.85),
                    at.plus(-HALF * 1.3, HALF * 0.85),
                ];
                svg.polygon(class, &[&corners]);
            }
            Self::Diamond => {
                let r = HALF * 1.25;
                svg.polygon(
                    class,
                    &[&[at.plus(0.0, -r), at.plus(r, 0.0), at.plus(0.0, r), at.plus(-r, 0.0)]],
                );
            }
            Self::Circle => svg.circle(class, at, HALF),
        }
    }
}

/// Draws every numbered finding that has a place on the sheet.
pub(crate) fn draw(svg: &mut Svg, site: &Site, review: &Review, sheet: &Sheet, room: &mut Room) {
    let all = numbered(site, review, sheet);
    for finding in &all {
        for mark in &finding.marks {
            under(svg, mark, sheet, room);
        }
    }
    let (placed, general): (Vec<_>, Vec<_>) = all
        .iter()
        .map(|finding| {
            (finding, finding.marks.iter().find_map(|mark| anchor(mark, sheet)).or(finding.fallback))
        })
        .partition(|(_, anchor)| anchor.is_some());
    row(svg, general.iter().map(|(finding, _)| *finding), sheet, room);
    for (finding, anchor) in placed {
        if let Some(anchor) = anchor {
            number(svg, finding, anchor, room);
        }
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

/// A number in its frame as a drawing of its own.
pub(crate) fn badge(number: u32, frame: Frame) -> String {
    let mut svg = Svg::default();
    let middle = Paper::new(HALF * 1.6, HALF * 1.6);
    let size = figure(HALF * 3.2);
    svg.open("svg", &format!("class=\"plan\" viewBox=\"0 0 {size} {size}\" aria-hidden=\"true\""));
    frame.draw(&mut svg, middle);
    frame.number(&mut svg, middle, number);
    svg.close("svg");
    svg.finish()
}

fn numbered<'a>(site: &Site, review: &'a Review, sheet: &Sheet) -> Vec<Numbered<'a>> {
    let rules = review.findings.iter().filter_map(|finding| {
        let fallback =
            finding.features.iter().find_map(|id| labels::middle(sheet, &site.feature(*id)?.shape));
        Some(Numbered {
            number: finding.number?,
            shape: Frame::of(finding.verdict),
            label: format!("{}: {}", finding.title, finding.place),
            marks: finding.marks.iter().collect(),
            fallback,
        })
    });
    let data = review.data.iter().filter_map(|finding| {
        Some(Numbered {
            number: finding.number?,
            shape: Frame::Circle,
            label: finding.remark.message.clone(),
            marks: finding.marks.iter().collect(),
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
            fallback: None,
        })
    });
    let mut all: Vec<Numbered<'a>> = rules.chain(data).chain(tool).collect();
    all.sort_by_key(|finding| finding.number);
    all
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
    let at = room.first_free(rings(anchor, &REACH, 16), size, size).unwrap_or_else(|| {
        // A crowded place: over other things, but never off the sheet.
        let at = anchor.plus(REACH[0], -REACH[0]);
        room.take(Block::around(at, size, size));
        at
    });
    bubble(svg, finding, Some(anchor), at);
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
    finding.shape.draw(svg, at);
    finding.shape.number(svg, at, n);
    svg.close("a");
}
