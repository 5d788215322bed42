//! What the lines and frames of this drawing mean; only what is on it is explained.

use groundrule_plan::Status;
use groundrule_review::Review;
use groundrule_site::{Feature, Site};

use super::errors::Errors;
use super::features::length;
use super::frame::Frame;
use super::sheet::Sheet;
use super::svg::{Paper, Svg, figure};
use super::symbols;

/// The width of a sample: one whole pattern of a lot line.
const SAMPLE: f64 = 15.0;
/// From one row to the next.
const STEP: f64 = 4.9;
/// How many rows a column has.
const ROWS: usize = 7;

/// Draws an example from a place to the right.
type Sample = fn(&mut Svg, Paper);

/// A row: what it is called, how it looks, and which features it is for.
type Row = (&'static str, Sample, fn(&Site, &Feature) -> bool);

/// Every line and hatch that may need a word, in the order they are explained.
const ROWS_OF_LINES: [Row; 8] = [
    ("lot line", |svg, at| svg.line("lot", at, at.plus(SAMPLE, 0.0)), |_, f| f.kind == "lot-line"),
    ("existing", |svg, at| boxed(svg, "building", at), |_, f| f.status == Some(Status::Existing)),
    ("proposed", |svg, at| boxed(svg, "building proposed", at), |_, f| f.status == Some(Status::Proposed)),
    ("to be removed", |svg, at| boxed(svg, "building remove", at), |_, f| f.status == Some(Status::Remove)),
    ("easement", |svg, at| boxed(svg, "easement", at), |site, f| site.kinds().is_a(&f.kind, "easement")),
    ("eaves", |svg, at| svg.line("eave", at, at.plus(SAMPLE, 0.0)), |_, f| length(f, "eave").is_some()),
    (
        "fence",
        |svg, at| symbols::fence(svg, "", &[at, at.plus(SAMPLE, 0.0)]),
        |site, f| site.kinds().is_a(&f.kind, "fence"),
    ),
    ("overhead wire", wire, |site, f| site.kinds().is_a(&f.kind, "overhead-wire")),
];

/// The frames of the numbers.
const FRAMES: [(&str, Frame); 4] = [
    ("fails", Frame::Square),
    ("verify in field", Frame::Triangle),
    ("missing data", Frame::Diamond),
    ("data or module", Frame::Circle),
];

/// What is on the sheet besides the plan itself.
pub(super) struct Explained<'a> {
    /// Numbered findings.
    pub(super) review: Option<&'a Review>,
    /// Required setback lines.
    pub(super) setbacks: bool,
    /// Error figures.
    pub(super) errors: Option<&'a Errors>,
}

/// Draws the legend from its first row down, in two columns of this width.
pub(super) fn draw(
    svg: &mut Svg,
    site: &Site,
    sheet: &Sheet,
    at: Paper,
    column: f64,
    explained: &Explained<'_>,
) {
    let drawn: Vec<&Feature> = site.features().map(|(_, f)| f).filter(|f| sheet.shows(f)).collect();
    let place = |i: usize| at.plus((i / ROWS) as f64 * column, (i % ROWS) as f64 * STEP);
    let mut i = 0;
    for (word, sample, needed) in ROWS_OF_LINES {
        if drawn.iter().any(|feature| needed(site, feature)) {
            sample(svg, place(i));
            svg.text("note", place(i).plus(SAMPLE + 2.0, 0.0), 0.0, word);
            i += 1;
        }
    }
    if explained.setbacks {
        svg.line("setback", place(i), place(i).plus(SAMPLE, 0.0));
        svg.text("note", place(i).plus(SAMPLE + 2.0, 0.0), 0.0, "required setback");
        i += 1;
    }
    if let Some(errors) = explained.errors {
        errors.sample(svg, place(i), SAMPLE);
        i += 1;
    }
    if explained.review.is_none() {
        return;
    }
    // The frames stay together: in the second column if they do not fit below the lines.
    if i % ROWS + FRAMES.len() > ROWS {
        i = i.next_multiple_of(ROWS);
    }
    for (k, (word, frame)) in FRAMES.into_iter().enumerate() {
        let at = place(i + k);
        let middle = at.plus(SAMPLE / 2.0, 0.0);
        svg.open(
            "g",
            &format!("transform=\"translate({} {}) scale(.62)\"", figure(middle.x), figure(middle.y)),
        );
        frame.draw(svg, Paper::new(0.0, 0.0));
        svg.close("g");
        svg.text("note", at.plus(SAMPLE + 2.0, 0.0), 0.0, word);
    }
}

fn boxed(svg: &mut Svg, class: &str, at: Paper) {
    svg.rect(class, at.plus(0.0, -1.5), SAMPLE, 3.0);
}

fn wire(svg: &mut Svg, at: Paper) {
    symbols::utility(svg, "", &[at, at.plus(SAMPLE, 0.0)], true, None);
    svg.text("label letters", at.plus(SAMPLE / 2.0, 0.0), 0.0, "OHW");
}
