//! Readings after adjustment as a table: how far each is off, and whether anything checks it.

use anstyle::Style as Ink;
use groundrule_plan::Plan;
use groundrule_survey::{AdjustedReading, Adjustment};
use groundrule_units::{Dimension, Quantity, Style, show};
use textwrap::core::display_width;

use super::page::{FAINT, Page, STRONG, cut, pad, pad_left};
use crate::safe;

const COLUMNS: [&str; 5] = ["reading", "read", "off by", "checked", "times"];
const WHAT: &str = "Off by: adjusted less read. Checked: the share of an error in it that the others would show; what \
                    nothing checks has none. Times: off by so many of its own standard deviations; beyond 3.3 look \
                    for a slip.";

/// The readings of one adjustment, with what they say together.
pub(super) fn readings(page: &mut Page, adjustment: &Adjustment, plan: &Plan, style: Style) {
    page.gap();
    page.heading(&format!("Readings adjusted together ({})", adjustment.readings.len()));
    page.gap();
    let rows: Vec<[String; 5]> =
        adjustment.readings.iter().map(|reading| row(reading, plan, style, page.width())).collect();
    let width = |column: usize| {
        let cells = rows.iter().map(|row| display_width(&row[column]));
        cells.max().unwrap_or(0).max(display_width(COLUMNS[column]))
    };
    let widths = [0, 1, 2, 3, 4].map(width);
    let line = |cells: [&str; 5]| {
        let cell =
            |(i, text): (usize, &&str)| if i == 0 { pad(text, widths[i]) } else { pad_left(text, widths[i]) };
        cells.iter().enumerate().map(cell).collect::<Vec<_>>().join("  ")
    };
    page.line(0, &[(&line(COLUMNS), STRONG)]);
    for row in &rows {
        page.line(0, &[(&line([0, 1, 2, 3, 4].map(|column: usize| row[column].as_str())), Ink::new())]);
    }
    page.gap();
    page.paragraph(0, &together(adjustment), Ink::new());
    page.paragraph(0, WHAT, FAINT);
}

fn together(adjustment: &Adjustment) -> String {
    let many = match adjustment.beyond_needed {
        0 => return "No reading is beyond those needed, so nothing checks any of them.".to_owned(),
        1 => "One reading is beyond those needed.".to_owned(),
        more => format!("{more} readings are beyond those needed."),
    };
    let Some(together) = adjustment.together else { return many };
    format!(
        "{many} All together are {:.2} times as far off as their accuracy says; {:.2} to {:.2} is usual.",
        together.off.fraction(),
        together.low.fraction(),
        together.high.fraction()
    )
}

fn row(reading: &AdjustedReading, plan: &Plan, style: Style, width: usize) -> [String; 5] {
    let checked = reading.checked.fraction();
    [
        cut(&safe::plain(&reading.describe(plan)), width.saturating_sub(44).max(16)),
        figure(reading.read, style),
        figure(reading.residual, style),
        if checked < 0.0005 { "-".to_owned() } else { format!("{:.0} %", 100.0 * checked) },
        reading.standardised.map_or_else(|| "-".to_owned(), |times| format!("{:.1}", times.fraction().abs())),
    ]
}

/// A length in the style, an angle to a hundredth of a degree.
fn figure(quantity: Quantity, style: Style) -> String {
    match quantity.angle() {
        // Hundredths first, so that nothing is never shown as less than nothing.
        Some(angle) if quantity.dimension() == Dimension::Angle => {
            format!("{:.2}°", (angle.degrees() * 100.0).round() / 100.0 + 0.0)
        }
        _ => show(quantity, style),
    }
}
