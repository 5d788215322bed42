//! Areas as a table.

use anstyle::Style as Ink;
use groundrule_site::{Feature, FeatureId, Measured, Site};
use groundrule_survey::Shape;
use groundrule_units::{Dimension, Length, Quantity, Style, show, show_with_spread};
use textwrap::core::display_width;

use super::page::{FAINT, Page, STRONG, cut, pad, pad_left};
use crate::drawing::name;
use crate::safe;

/// Spaces between columns.
const COLUMNS: usize = 2;

/// Pages narrower than this leave out the kind.
const NARROW: usize = 64;

/// One line of the table.
struct Row {
    name: String,
    kind: String,
    area: String,
    share: String,
}

/// Everything that covers ground: its area with its plus-or-minus at 95 %, and its share of its lot.
///
/// Lots come first, then features in file order. Shares are of each thing alone; things that lie over each
/// other both count.
pub fn areas(site: &Site, style: Style, width: usize) -> String {
    let mut page = Page::new(width);
    let (lots, things): (Vec<_>, Vec<_>) = site
        .features()
        .filter(|(_, feature)| covers(feature))
        .partition(|(_, feature)| feature.kind == "lot");
    let rows: Vec<Row> =
        lots.into_iter().chain(things).map(|(id, feature)| row(site, id, feature, style)).collect();
    if rows.is_empty() {
        page.paragraph(0, "Nothing on this plan covers ground.", Ink::new());
        return page.finish();
    }
    table(&mut page, &rows);
    page.gap();
    page.paragraph(
        0,
        "Plus or minus at 95 %. Each thing counts alone, so what lies over another is in both.",
        FAINT,
    );
    page.finish()
}

fn covers(feature: &Feature) -> bool {
    match &feature.shape {
        Shape::Outline { .. } | Shape::Disc { .. } => true,
        Shape::Line { width, .. } => *width > Length::ZERO,
        Shape::Spot(_) | Shape::Absent => false,
    }
}

fn row(site: &Site, id: FeatureId, feature: &Feature, style: Style) -> Row {
    let area = site.area(id);
    let lot = feature.lot.filter(|lot| *lot != id).map(|lot| site.area(lot));
    let share = lot.and_then(|lot| area.ratio(&lot).ok()).filter(known);
    Row {
        name: safe::plain(&name(feature)).into_owned(),
        kind: safe::plain(&feature.kind).into_owned(),
        area: if known(&area) {
            show_with_spread(area.value(), area.spread(), style)
        } else {
            "not known".to_owned()
        },
        share: share.map_or_else(String::new, |share| {
            show(Quantity::new(Dimension::Ratio, share.value().si()), style)
        }),
    }
}

fn known(amount: &Measured) -> bool {
    amount.needs.is_empty()
}

fn table(page: &mut Page, rows: &[Row]) {
    let widest = |cell: fn(&Row) -> &str, heading: &str| {
        rows.iter().map(|row| display_width(cell(row))).max().unwrap_or(0).max(display_width(heading))
    };
    let area = widest(|row| &row.area, "area");
    let share = widest(|row| &row.share, "of lot");
    // A narrow page does without the kind, then cuts the name.
    let kind = widest(|row| &row.kind, "kind").min(page.width() / 4);
    let kind = if page.width() < NARROW { 0 } else { kind + COLUMNS };
    let room = page.width().saturating_sub(kind + area + share + 2 * COLUMNS).max(4);
    let name = widest(|row| &row.name, "name").min(room);
    let mut line = |cells: [&str; 4], ink: Ink| {
        let gap = " ".repeat(COLUMNS);
        let middle = match kind.checked_sub(COLUMNS) {
            Some(kind) => format!("{gap}{}", pad(&cut(cells[1], kind), kind)),
            None => String::new(),
        };
        let text = format!(
            "{}{middle}{gap}{}{gap}{}",
            pad(&cut(cells[0], name), name),
            pad_left(cells[2], area),
            pad_left(cells[3], share)
        );
        page.line(0, &[(&text, ink)]);
    };
    line(["name", "kind", "area", "of lot"], STRONG);
    for row in rows {
        line([&row.name, &row.kind, &row.area, &row.share], Ink::new());
    }
}
