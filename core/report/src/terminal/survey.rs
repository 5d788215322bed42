//! Measured points as a table, and the findings on the measurements.

use anstyle::Style as Ink;
use groundrule_plan::{Plan, Remark};
use groundrule_survey::{ErrorEllipse, Layout, Point, PointHeight};
use groundrule_units::{Length, Style, show, show_with_spread};
use textwrap::core::display_width;

use super::page::{BAD, FAINT, OPEN, Page, STRONG, cut, pad, pad_left};
use crate::lines::Lines;
use crate::{safe, words};

/// A plan with its places, as they were worked out.
pub struct Surveyed<'a> {
    /// The plan as written.
    pub plan: &'a Plan,
    /// Its places.
    pub layout: &'a Layout,
    /// Everything found about the data.
    pub remarks: &'a [Remark],
    /// The units to write in.
    pub style: Style,
}

/// The columns of the table.
const COLUMNS: [&str; 5] = ["point", "x", "y", "height", "95 % ellipse"];
/// Pages at least so wide have room for the ellipse.
const WIDE: usize = 100;
/// What the ellipse is.
const ELLIPSE: &str = "The ellipse holds the true place at 95 %: its half axes, and the direction of the longer \
                       one from the right of the sheet, anticlockwise.";
/// No name is shown longer.
const LONGEST: usize = 28;

/// Every named point: where it is, how high, and the half axes of the ellipse that holds its true place at 95 %
/// with the direction of the longer; then the findings on the measurements.
pub fn survey(surveyed: &Surveyed<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    page.heading(&format!("Points of {}", surveyed.plan.site.name));
    page.gap();
    let rows: Vec<[String; 5]> =
        surveyed.layout.named.iter().map(|(name, p)| row(surveyed, name, p)).collect();
    let heights_only =
        surveyed.layout.heights.iter().filter(|(n, _)| !surveyed.layout.named.contains_key(*n));
    let rows: Vec<[String; 5]> = rows
        .into_iter()
        .chain(heights_only.map(|(name, height)| {
            let none = String::new;
            [label(name), none(), none(), high(height, surveyed.style), none()]
        }))
        .collect();
    if rows.is_empty() {
        page.paragraph(0, "No point of this plan has a name.", Ink::new());
    } else {
        table(&mut page, &rows);
        page.gap();
        page.paragraph(0, "Plus or minus at 95 %, of each figure by itself; exact ones have none.", FAINT);
        if page.width() >= WIDE {
            page.paragraph(0, ELLIPSE, FAINT);
        }
    }
    for adjustment in &surveyed.layout.adjustments {
        super::readings::readings(&mut page, adjustment, surveyed.plan, surveyed.style);
    }
    findings(&mut page, surveyed);
    page.finish()
}

fn row(surveyed: &Surveyed<'_>, name: &str, point: &Point) -> [String; 5] {
    let (shift, style) = (surveyed.layout.shift, surveyed.style);
    let figure = |here: Length, shift: Length, plus_minus: Length| {
        let at = show((here + shift).into(), style);
        if plus_minus == Length::ZERO {
            at
        } else {
            format!("{at} {}", words::plus_minus(plus_minus.into(), style))
        }
    };
    let (across, up) = point.error.plus_minus();
    let height = surveyed.layout.heights.get(name).map(|height| high(height, style)).unwrap_or_default();
    [
        label(name),
        figure(point.at.x, shift.x, across),
        figure(point.at.y, shift.y, up),
        height,
        ellipse(point.error.ellipse(), style),
    ]
}

fn label(name: &str) -> String {
    cut(&safe::plain(name), LONGEST)
}

fn high(point: &PointHeight, style: Style) -> String {
    let variance: f64 = point.error.iter().map(|(_, term)| term.metres() * term.metres()).sum();
    show_with_spread(point.height.into(), Length::from_metres(libm::sqrt(variance)).into(), style)
}

/// `±1.25 ft`, or `±1.25 × 0.40 ft at 30°` where it is longer one way.
fn ellipse(figure: ErrorEllipse, style: Style) -> String {
    if figure.major == Length::ZERO {
        return "exact".to_owned();
    }
    let major = words::plus_minus(figure.major.into(), style);
    if figure.minor.metres() >= 0.999 * figure.major.metres() {
        return major;
    }
    let degrees = figure.turn.degrees().rem_euclid(180.0);
    format!("{major} by {} at {degrees:.0}°", words::plus_minus(figure.minor.into(), style))
}

fn table(page: &mut Page, rows: &[[String; 5]]) {
    let any_height = rows.iter().any(|row| !row[3].is_empty());
    // The ellipse is for wide pages; its axes are in the plus-or-minus of x and y.
    let wide = page.width() >= WIDE;
    let shown: Vec<usize> =
        (0..5).filter(|column| (*column != 3 || any_height) && (*column != 4 || wide)).collect();
    let widest = |column: usize| {
        let cells = rows.iter().map(|row| display_width(&row[column]));
        cells.max().unwrap_or(0).max(display_width(COLUMNS[column]))
    };
    let widths: Vec<usize> = shown.iter().map(|column| widest(*column)).collect();
    let line = |cells: [&str; 5]| {
        let cell = |(column, width): (&usize, &usize)| {
            let text = cells[*column];
            if matches!(column, 0 | 4) { pad(text, *width) } else { pad_left(text, *width) }
        };
        shown.iter().zip(&widths).map(cell).collect::<Vec<_>>().join("  ")
    };
    page.line(0, &[(&line(COLUMNS), STRONG)]);
    for row in rows {
        let cells = [0, 1, 2, 3, 4].map(|column: usize| row[column].as_str());
        page.line(0, &[(&line(cells), Ink::new())]);
    }
}

/// What was found about the measurements, each with its place in the file.
fn findings(page: &mut Page, surveyed: &Surveyed<'_>) {
    let Surveyed { plan, remarks, .. } = surveyed;
    let of_measurements: Vec<&Remark> = remarks.iter().filter(|remark| concerns(plan, remark)).collect();
    if of_measurements.is_empty() {
        return;
    }
    let lines = Lines::of(&plan.source);
    page.gap();
    page.heading(&format!("About the measurements ({})", of_measurements.len()));
    for remark in of_measurements {
        page.gap();
        let ink = if remark.gravity == groundrule_plan::Gravity::Wrong { BAD } else { OPEN };
        page.hanging(0, words::gravity(remark.gravity), ink, &remark.message);
        if let Some((line, column)) = lines.find(remark.span) {
            page.field(2, "at", &format!("{}:{line}:{column}", plan.source.name));
        }
        page.field(2, "do", remark.help.as_deref().unwrap_or_default());
    }
}

/// True for what the survey found, and for what is about a measurement.
fn concerns(plan: &Plan, remark: &Remark) -> bool {
    let measured =
        |name: &groundrule_plan::Name| plan.measurements.iter().any(|measurement| measurement.id == *name);
    remark.about.iter().any(measured)
}
