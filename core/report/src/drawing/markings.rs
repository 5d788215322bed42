//! What lines in the ground look like on this drawing: their colors and letters, and the strips beside them.

use std::collections::BTreeMap;

use groundrule_review::{Finding, Review};
use groundrule_site::{Mark, Site};
use groundrule_survey::Shape;

use super::room::text_width;
use super::sheet::{MARGIN, Sheet};
use super::svg::{Paper, Svg};
use super::symbols;
use crate::marking::{self, Color};

/// The width of a sample.
const SAMPLE: f64 = 15.0;
/// From one row to the next.
const STEP: f64 = 4.9;
/// From one line of the note to the next.
const NOTE_STEP: f64 = 3.3;
/// The size of the note.
const NOTE: f64 = 2.3;
/// How many samples a row has.
const ACROSS: usize = 3;
/// What the note may take.
const NOTE_LINES: usize = 3;

/// What every drawing with lines in the ground says of them.
const WORDS: &str = "Colors and letters of lines in the ground: uniform marking colors of the United States (APWA code, ANSI \
    Z535.1); other countries use other colors. Drawn positions are not locations: call the local one-call service \
    before any digging.";

/// How much taller the strip below the plan is for this; nothing where there is no line in the ground.
pub(super) fn height(site: &Site) -> f64 {
    let cells = colors(site).len();
    if cells == 0 {
        return 0.0;
    }
    // One cell more for the strips.
    ((cells + 1).div_ceil(ACROSS)) as f64 * STEP + NOTE_LINES as f64 * NOTE_STEP + 2.0
}

/// The colors on the drawing, each with the letters drawn in it; lines that have none come last.
fn colors(site: &Site) -> BTreeMap<Option<Color>, Vec<&'static str>> {
    let mut found: BTreeMap<Option<Color>, Vec<&'static str>> = BTreeMap::new();
    let lines = site.features().filter(|(_, feature)| {
        site.kinds().is_a(&feature.kind, "buried-line") && !matches!(feature.shape, Shape::Absent)
    });
    for (_, feature) in lines {
        let letters = marking::letters(site.kinds(), &feature.kind);
        let of = found.entry(marking::color(site.kinds(), &feature.kind)).or_default();
        if !of.contains(&letters) {
            of.push(letters);
        }
    }
    found
}

/// Explains the colors, from the upper left of their part of the strip.
pub(super) fn explain(svg: &mut Svg, site: &Site, sheet: &Sheet, review: Option<&Review>, at: Paper) {
    let found = colors(site);
    if found.is_empty() {
        return;
    }
    svg.line("thin", at.plus(-4.0, -2.6), Paper::new(sheet.width - MARGIN, at.y - 2.6));
    let across = (sheet.width - 2.0 * MARGIN - 8.0) / ACROSS as f64;
    let cell = |i: usize| at.plus((i % ACROSS) as f64 * across, (i / ACROSS) as f64 * STEP);
    let ordered = Color::ALL.into_iter().map(Some).chain([None]);
    let mut i = 0;
    for (color, letters) in ordered.filter_map(|color| Some((color, found.get(&color)?))) {
        let at = cell(i);
        let letters = letters.join(", ");
        symbols::utility(svg, "", &[at, at.plus(SAMPLE, 0.0)], false, color);
        svg.text("label letters", at.plus(SAMPLE / 2.0, 0.0), 0.0, &letters);
        let words =
            color.map_or_else(|| "unknown".to_owned(), |color| format!("{}: {}", color.of(), color.name()));
        svg.text("note", at.plus(SAMPLE + 2.0, 0.0), 0.0, &words);
        i += 1;
    }
    if review.is_some_and(|review| strips(site, review).next().is_some()) {
        let at = cell(i);
        svg.rect("strip", at.plus(0.0, -1.5), SAMPLE, 3.0);
        svg.line("pipe", at, at.plus(SAMPLE, 0.0));
        svg.text("note", at.plus(SAMPLE + 2.0, 0.0), 0.0, "strip to be dug by hand");
    }
    let room = sheet.width - 2.0 * MARGIN - 8.0;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sheet is some hundred letters wide"
    )]
    let columns = (room / text_width("n", NOTE)).floor().max(40.0) as usize;
    let first = cell((found.len() + 1).next_multiple_of(ACROSS));
    for (k, line) in textwrap::wrap(WORDS, columns).iter().take(NOTE_LINES).enumerate() {
        svg.text("note", first.plus(0.0, k as f64 * NOTE_STEP - 0.6), 0.0, line);
    }
}

/// Findings that mark the strip around one line, whatever their verdict.
fn strips<'a>(site: &'a Site, review: &'a Review) -> impl Iterator<Item = &'a Finding> {
    review.findings.iter().filter(|finding| {
        is_strip(site, finding) && finding.marks.iter().any(|mark| matches!(mark, Mark::Region(_)))
    })
}

/// Whether the regions of a finding are the strip around a line and nothing that is wrong.
pub(super) fn is_strip(site: &Site, finding: &Finding) -> bool {
    let [only] = finding.features.as_slice() else { return false };
    site.feature(*only).is_some_and(|feature| {
        site.kinds().is_a(&feature.kind, "buried-line") && matches!(feature.shape, Shape::Line { .. })
    })
}

/// Draws the strips of all lines, as wide as the rules used say.
pub(super) fn draw(svg: &mut Svg, site: &Site, review: &Review, sheet: &Sheet) {
    for finding in strips(site, review) {
        let color = finding
            .features
            .first()
            .and_then(|id| marking::color(site.kinds(), &site.feature(*id)?.kind))
            .map_or("", Color::name);
        for mark in &finding.marks {
            if let Mark::Region(ring) = mark {
                let ring: Vec<Paper> = ring.iter().map(|at| sheet.place(*at)).collect();
                svg.polygon(&format!("strip {color}"), &[&ring]);
            }
        }
    }
}
