//! What to take in the field, as a table.

use anstyle::Style as Ink;

use super::page::{FAINT, Page, STRONG};
use crate::words::{self, Taking};
use crate::{CAUTIONS, Report};

/// How far the table stands in.
const INDENT: usize = 2;
/// Widths of the columns but for the second, which has what is left.
const FROM: usize = 16;
const WITHIN: usize = 14;
const SETTLES: usize = 12;
/// Pages narrower than this have a list instead.
const NARROW: usize = 72;

/// What to take in the field so that open verdicts are settled, with the findings by their numbers in the review.
pub fn fieldwork(report: &Report<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    page.heading(&report.review.plan);
    if report.review.retakes.is_empty() {
        page.paragraph(0, "No verdict hangs on anything that could be taken in the field.", Ink::new());
    }
    rows(&mut page, report, report.review.retakes.len());
    page.gap();
    for subject in ["Digging", "Boundaries"] {
        for caution in CAUTIONS.iter().filter(|caution| caution.subject == subject) {
            page.hanging(INDENT, "-", Ink::new(), caution.text);
        }
    }
    page.finish()
}

/// The table, best first, if there is anything to take.
pub(super) fn table(page: &mut Page, report: &Report<'_>) {
    let review = report.review;
    rows(page, report, words::FIELDWORK_LONGEST);
    if let Some(more) = words::more_fieldwork(review.retakes.len()) {
        page.paragraph(INDENT, &more, FAINT);
    }
}

fn rows(page: &mut Page, report: &Report<'_>, most: usize) {
    let review = report.review;
    if review.retakes.is_empty() {
        return;
    }
    page.gap();
    page.heading(words::FIELDWORK);
    page.gap();
    let numbers = words::Numbers::of(review);
    if page.width() < NARROW {
        for retake in review.retakes.iter().take(most) {
            let Taking { from, to, within, settles } = words::taking(report, &numbers, retake);
            let from = if from.is_empty() { from } else { format!("{from} to ") };
            let settles = if retake.settles.is_empty() { settles } else { format!("settles {settles}") };
            page.hanging(INDENT, "-", Ink::new(), &format!("{from}{to}; {within}; {settles}"));
        }
        return;
    }
    let what = page.width().saturating_sub(INDENT + FROM + WITHIN + SETTLES + 6);
    let widths = [FROM, what, WITHIN, SETTLES];
    page.columns(INDENT, &widths, &words::FIELDWORK_COLUMNS, STRONG);
    for retake in review.retakes.iter().take(most) {
        let Taking { from, to, within, settles } = words::taking(report, &numbers, retake);
        page.columns(INDENT, &widths, &[&from, &to, &within, &settles], Ink::new());
    }
}
