//! Points and areas of a resolved plan as CSV.

#[cfg(test)]
mod tests;

use groundrule_site::Site;
use groundrule_survey::{Layout, Shape};
use groundrule_units::Length;

use crate::LinearUnit;

/// Every named point and corner: `point,northing,easting`, the unit in the header.
///
/// Northing is up the sheet and easting to the right, as written in the plan. Four decimals; the reader of
/// this crate reads it back.
pub fn points_csv(layout: &Layout, unit: LinearUnit) -> String {
    let word = header_word(unit);
    let mut text = format!("point,northing ({word}),easting ({word})\n");
    let number = |length: Length| plain((length / unit.one()).fraction(), 4);
    for (name, point) in &layout.named {
        let northing = number(point.at.y + layout.shift.y);
        let easting = number(point.at.x + layout.shift.x);
        text.push_str(&line(&[name, &northing, &easting]));
    }
    text
}

/// Every lot and every feature that covers ground: its area and the plus-or-minus of it at 95 %, in square
/// metres to 0.01 and in square feet to 0.1.
pub fn areas_csv(site: &Site) -> String {
    /// The half width of a 95 % interval in standard deviations (JCGM 106:2012, table 1).
    const HALF_WIDTH: f64 = 1.959_963_984_540_054;
    const SQUARE_FOOT: f64 = 0.3048 * 0.3048;
    let mut text = String::from("id,title,kind,lot,area_m2,plus_minus_m2,area_sq_ft,plus_minus_sq_ft\n");
    for (id, feature) in site.features() {
        let covers = match &feature.shape {
            Shape::Outline { .. } | Shape::Disc { .. } => true,
            Shape::Line { width, .. } => *width > Length::ZERO,
            Shape::Spot(_) | Shape::Absent => false,
        };
        if !covers {
            continue;
        }
        let area = site.area(id);
        let (value, around) = (area.value().si(), area.spread().si() * HALF_WIDTH);
        let lot = feature.lot.and_then(|lot| site.feature(lot)).map_or("", |lot| &lot.id.0);
        text.push_str(&line(&[
            &feature.id.0,
            &feature.title,
            &feature.kind,
            lot,
            &plain(value, 2),
            &plain(around, 2),
            &plain(value / SQUARE_FOOT, 1),
            &plain(around / SQUARE_FOOT, 1),
        ]));
    }
    text
}

fn header_word(unit: LinearUnit) -> &'static str {
    match unit {
        LinearUnit::Metre => "m",
        LinearUnit::Millimetre => "mm",
        LinearUnit::Centimetre => "cm",
        LinearUnit::Kilometre => "km",
        LinearUnit::Foot => "ft",
        LinearUnit::SurveyFoot => "us ft",
        LinearUnit::Inch => "in",
        LinearUnit::Mile => "mi",
    }
}

/// A number with so many decimals and no negative zero.
fn plain(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let zero = text.trim_start_matches('-').chars().all(|c| matches!(c, '0' | '.'));
    if zero { text.trim_start_matches('-').to_owned() } else { text }
}

/// One line of cells, quoted where needed.
///
/// A cell of words that starts like a formula gets an apostrophe, so that a spreadsheet shows it and does
/// not run it.
fn line(cells: &[&str]) -> String {
    let cells: Vec<String> = cells
        .iter()
        .map(|cell| {
            let formula = cell.starts_with(['=', '+', '-', '@', '\t', '\r']) && cell.parse::<f64>().is_err();
            let cell = if formula { format!("'{cell}") } else { (*cell).to_owned() };
            if cell.contains([',', '"', '\n', '\r']) {
                format!("\"{}\"", cell.replace('"', "\"\""))
            } else {
                cell
            }
        })
        .collect();
    format!("{}\n", cells.join(","))
}
