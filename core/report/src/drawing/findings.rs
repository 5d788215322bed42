//! Findings at their places: what was measured, and a number whose shape tells the verdict.

use groundrule_review::{Review, Verdict};
use groundrule_site::{Mark, Site};

use super::dimensions;
use super::labels;
use super::room::{Block, Room, rings};
use super::sheet::Sheet;
use super::svg::{Paper, Svg, escape};

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

    /// Draws the frame around a place.
    pub(crate) fn draw(self, svg: &mut Svg, at: Paper) {
        let class = self.class();
        match self {
            Self::Square => svg.rect(class, at.plus(-HALF * 0.85, -HALF * 0.85), HALF * 1.7, HALF * 1.7),
            Self::Triangle => {
                let corners = [at.plus(0.0, -HALF * 1.35), at.plus(HALF * 1.3, HALF * 0.85), at.plus(-HALF * 1.3, HALF * 0.85)];
                svg.polygon(class, &[&corners]);
            }
            Self::Diamond => {
                let r = HALF * 1.25;
                svg.polygon(class, &[&[at.plus(0.0, -r), at.plus(r, 0.0), at.plus(0.0, r), at.plus(-r, 0.0)]]);
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
    for finding in &all {
        let anchor = finding.marks.iter().find_map(|mark| anchor(mark, sheet)).or(finding.fallback);
        if let Some(anchor) = anchor {
            number(svg, finding, anchor, room);
        }
    }
}

fn numbered<'a>(site: &Site, review: &'a Review, sheet: &Sheet) -> Vec<Numbered<'a>> {
    let rules = review.findings.iter().filter_map(|finding| {
        let fallback = finding
            .features
            .iter()
            .find_map(|id| labels::middle(sheet, &site.feature(*id)?.shape));
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
    let mut all: Vec<Numbered<'a>> = rules.chain(data).collect();
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
    let n = finding.number;
    svg.open("a", &format!("href=\"#f{n}\" id=\"m{n}\" class=\"finding\" aria-label=\"Finding {n}: {}\"", escape(&finding.label)));
    // The leader stops at the frame, so that the number stays clear.
    let reach = anchor.distance(at);
    if reach > HALF * 1.2 {
        svg.line("finding-leader", anchor, anchor.towards(at, 1.0 - HALF / reach));
    }
    finding.shape.draw(svg, at);
    let down = if finding.shape == Frame::Triangle { 0.55 } else { 0.1 };
    svg.text("bubble-number", at.plus(0.0, down), 0.0, &n.to_string());
    svg.close("a");
}
