//! What stands around the plan: title, scale bar, north arrow, legend.

use groundrule_plan::Plan;
use groundrule_site::Site;
use groundrule_units::{Length, Style};

use super::legend;
use super::markings;
use super::room::text_width;
use super::sheet::{MARGIN, STRIP, Sheet};
use super::svg::{Paper, Svg, figure};
use super::symbols;

/// Draws the frame and the strip below the plan.
pub(super) fn draw(
    svg: &mut Svg,
    plan: &Plan,
    site: &Site,
    sheet: &Sheet,
    style: Style,
    explained: &legend::Explained<'_>,
) {
    let (w, h) = (sheet.width, sheet.height);
    svg.rect("frame", Paper::new(MARGIN, MARGIN), w - 2.0 * MARGIN, h - 2.0 * MARGIN);
    let top = h - MARGIN - sheet.strip;
    svg.line("frame", Paper::new(MARGIN, top), Paper::new(w - MARGIN, top));
    title(svg, plan, sheet, Paper::new(MARGIN + 4.0, top));
    bar(svg, sheet, style, Paper::new(MARGIN + 4.0, top + 30.5));
    let turn = plan.site.north.as_ref().map(|north| north.clockwise_of_up.degrees());
    symbols::north(svg, Paper::new(w - MARGIN - 16.0, top + STRIP / 2.0 + 1.5), turn);
    let column = (w * 0.5 - MARGIN - 32.0) / 2.0;
    legend::draw(svg, site, sheet, Paper::new(w * 0.5, top + 5.2), column, explained);
    markings::explain(svg, site, sheet, explained.review, Paper::new(MARGIN + 4.0, top + STRIP + 2.6));
}

/// The size of the title's letters.
const TITLE: f64 = 4.6;

fn title(svg: &mut Svg, plan: &Plan, sheet: &Sheet, top: Paper) {
    let room = sheet.width * 0.5 - MARGIN - 8.0;
    // The legend keeps its place; a long name takes two lines, and one still longer is cut.
    let columns = (room / text_width("n", TITLE)).floor().max(8.0);
    #[allow(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a sheet is some hundred letters wide"
    )]
    let lines = textwrap::wrap(&plan.site.name, columns as usize);
    let lines = &lines[..lines.len().min(2)];
    let mut at = top.plus(0.0, 6.5);
    for line in lines {
        svg.text("title", at, 0.0, line);
        at = at.plus(0.0, 5.2);
    }
    let mut facts = vec![format!("Scale {}", sheet.scale)];
    facts.extend(plan.site.district.iter().map(|district| format!("district {district}")));
    facts.extend(plan.sheet.date.iter().map(|date| format!("sheet of {}", date.value)));
    facts.extend(plan.sheet.drawn_by.iter().map(|by| format!("by {}", by.value)));
    let notes = [
        facts.join("  ·  "),
        "Drawn from the plan file as stated. Not a survey; boundaries are for".to_owned(),
        "a licensed surveyor. Drawn utilities are not locations: call the".to_owned(),
        "local one-call service before any digging.".to_owned(),
    ];
    for (note, down) in notes.iter().zip([0.3, 4.6, 7.7, 10.8]) {
        svg.text("note", at.plus(0.0, down), 0.0, note);
    }
}

/// A bar of alternating pieces in a round length.
pub(super) fn bar(svg: &mut Svg, sheet: &Sheet, style: Style, at: Paper) {
    let (one, unit) = match style {
        Style::Metres => (Length::from_metres(1.0), "m"),
        Style::FeetInches | Style::DecimalFeet => (Length::from_feet(1.0), "ft"),
    };
    let room = (sheet.width * 0.5 - MARGIN - 20.0) / sheet.length(one);
    let rounds = [500.0, 250.0, 200.0, 100.0, 50.0, 25.0, 20.0, 10.0, 5.0, 2.0, 1.0];
    let piece = rounds.into_iter().find(|round| round * 4.0 <= room).unwrap_or(1.0);
    let step = sheet.length(one * piece);
    for i in 0..4 {
        let class = if i % 2 == 0 { "solid" } else { "paper" };
        svg.rect(class, at.plus(f64::from(i) * step, 0.0), step, 1.8);
    }
    for i in [0, 1, 2, 4] {
        let label = figure(piece * f64::from(i));
        let label = if i == 4 { format!("{label} {unit}") } else { label };
        svg.text("small", at.plus(f64::from(i) * step, 4.2), 0.0, &label);
    }
}
