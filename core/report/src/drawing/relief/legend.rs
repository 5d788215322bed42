//! What the lines and figures of the ground mean, the interval of contours, and what levels count from.

use groundrule_site::Feature;

use super::super::room::text_width;
use super::super::sheet::{MARGIN, Sheet};
use super::super::svg::{Paper, Svg};
use super::super::symbols;
use super::{Relief, falls, hachures, hollows, spots};

/// The width of a sample.
const SAMPLE: f64 = 15.0;
/// From one row to the next.
const STEP: f64 = 5.2;
/// From one line of the note to the next.
const NOTE_STEP: f64 = 3.3;
/// The size of the note.
const NOTE: f64 = 2.3;
/// How many samples a row has.
const ACROSS: usize = 3;
/// What the note may take.
const NOTE_LINES: usize = 3;

/// Draws an example from a place to the right.
type Sample = fn(&mut Svg, Paper);

/// The samples this drawing needs, with their words.
fn samples(relief: &Relief<'_>) -> Vec<(&'static str, Sample)> {
    let kinds = relief.site.kinds();
    let has = |kind: &str| {
        relief.site.features().any(|(_, feature): (_, &Feature)| kinds.is_a(&feature.kind, kind))
    };
    let new = relief.regraded;
    let lies = relief.site.ground(groundrule_survey::Surface::Existing).is_some();
    let all: [(bool, &'static str, Sample); 12] = [
        (lies, "contour, existing", |svg, at| contour(svg, at, "contour heavy", "label contour-figure")),
        (new, "contour, proposed", |svg, at| {
            contour(svg, at, "contour new heavy", "label contour-figure new");
        }),
        (lies, "level, existing", |svg, at| spots::sample(svg, at.plus(2.0, 0.0), "99.80", false)),
        (new, "level, proposed", |svg, at| spots::sample(svg, at.plus(2.0, 0.0), "99.80", true)),
        (true, "fall of the ground", |svg, at| falls::sample(svg, at, SAMPLE)),
        (!relief.ponds.is_empty(), "hollow, its lowest place", |svg, at| hollows::sample(svg, at, SAMPLE)),
        (relief.steepest >= hachures::STEEP, "steeper than 3 to 1", |svg, at| {
            hachures::sample(svg, at, SAMPLE, false);
        }),
        (relief.steepest >= hachures::STEEPER, "steeper than 2 to 1", |svg, at| {
            hachures::sample(svg, at, SAMPLE, true);
        }),
        (has("flow-arrow"), "arrow as drawn", |svg, at| {
            symbols::drawn_arrow(svg, &[at.plus(2.0, 0.0), at.plus(SAMPLE - 2.0, 0.0)]);
        }),
        (has("swale"), "swale", |svg, at| svg.line("swale", at, at.plus(SAMPLE, 0.0))),
        (has("breakline"), "break of the slope", |svg, at| svg.line("breakline", at, at.plus(SAMPLE, 0.0))),
        (has("grading-limit"), "limit of grading", |svg, at| {
            svg.line("grading-limit", at, at.plus(SAMPLE, 0.0));
        }),
    ];
    all.into_iter().filter(|(needed, ..)| *needed).map(|(_, words, sample)| (words, sample)).collect()
}

fn contour(svg: &mut Svg, at: Paper, class: &str, figure: &str) {
    svg.line(class, at, at.plus(5.4, 0.0));
    svg.text(figure, at.plus(SAMPLE / 2.0, 0.0), 0.0, "100");
    svg.line(class, at.plus(SAMPLE - 5.4, 0.0), at.plus(SAMPLE, 0.0));
}

/// How much of the strip the legend takes.
pub(super) fn height(relief: &Relief<'_>) -> f64 {
    samples(relief).len().div_ceil(ACROSS) as f64 * STEP + NOTE_LINES as f64 * NOTE_STEP + 2.0
}

/// Draws the legend.
pub(super) fn draw(relief: &Relief<'_>, svg: &mut Svg, sheet: &Sheet, at: Paper) {
    svg.line("thin", at.plus(-4.0, -2.6), Paper::new(sheet.width - MARGIN, at.y - 2.6));
    let at = at.plus(0.0, 0.6);
    let across = (sheet.width - 2.0 * MARGIN - 8.0) / ACROSS as f64;
    let samples = samples(relief);
    for (i, (words, sample)) in samples.iter().enumerate() {
        let at = at.plus((i % ACROSS) as f64 * across, (i / ACROSS) as f64 * STEP);
        sample(svg, at);
        svg.text("note", at.plus(SAMPLE + 2.0, 0.0), 0.0, words);
    }
    let counted = relief.datum.as_ref().map_or_else(
        || "what they count from is not stated".to_owned(),
        |datum| format!("counted from: {}", datum.trim()),
    );
    let unit = if relief.unit.word() == "ft" { "feet" } else { "metres" };
    let arrows = if relief.regraded { " Arrows, hollows and banks: of the ground as proposed." } else { "" };
    let some = if spots::are_many(relief.site) {
        " Of levels that stand close together some are written."
    } else {
        ""
    };
    let words = format!(
        "{}. Levels in {unit}, {counted}.{some}{arrows} The ground between levels is taken as straight; this is no topographic \
         survey.",
        relief.interval(sheet).words()
    );
    let room = sheet.width - 2.0 * MARGIN - 8.0;
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sheet is some hundred letters wide"
    )]
    let columns = (room / text_width("n", NOTE)).floor().max(40.0) as usize;
    let first = at.plus(0.0, samples.len().div_ceil(ACROSS) as f64 * STEP - 0.6);
    for (k, line) in textwrap::wrap(&words, columns).iter().take(NOTE_LINES).enumerate() {
        svg.text("note", first.plus(0.0, k as f64 * NOTE_STEP), 0.0, line);
    }
}
