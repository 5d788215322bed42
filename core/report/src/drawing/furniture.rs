//! What stands around the plan: title, scale bar, north arrow, legend.

use groundrule_plan::Plan;
use groundrule_units::{Length, Style};

use super::findings::Frame;
use super::sheet::{MARGIN, STRIP, Sheet};
use super::svg::{Paper, Svg, figure};
use super::symbols;

/// Draws the frame and the strip below the plan.
pub(crate) fn draw(svg: &mut Svg, plan: &Plan, sheet: &Sheet, style: Style, with_findings: bool) {
    let (w, h) = (sheet.width, sheet.height);
    svg.rect("frame", Paper::new(MARGIN, MARGIN), w - 2.0 * MARGIN, h - 2.0 * MARGIN);
    let top = h - MARGIN - STRIP;
    svg.line("frame", Paper::new(MARGIN, top), Paper::new(w - MARGIN, top));
    title(svg, plan, sheet, Paper::new(MARGIN + 4.0, top));
    bar(svg, sheet, style, Paper::new(MARGIN + 4.0, top + 27.0));
    let turn = plan.site.north.as_ref().map(|north| north.clockwise_of_up.degrees());
    symbols::north(svg, Paper::new(w - MARGIN - 16.0, top + STRIP / 2.0 + 1.5), turn);
    legend(svg, Paper::new(w * 0.5, top + 5.5), (w * 0.5 - MARGIN - 34.0) / 2.0, with_findings);
}

fn title(svg: &mut Svg, plan: &Plan, sheet: &Sheet, top: Paper) {
    svg.text("title", top.plus(0.0, 6.5), 0.0, &plan.site.name);
    let mut facts = vec![format!("Scale {}", sheet.scale)];
    facts.extend(plan.site.district.iter().map(|district| format!("district {district}")));
    facts.extend(plan.sheet.date.iter().map(|date| format!("sheet of {}", date.value)));
    facts.extend(plan.sheet.drawn_by.iter().map(|by| format!("by {}", by.value)));
    svg.text("note", top.plus(0.0, 12.0), 0.0, &facts.join("  ·  "));
    svg.text(
        "note",
        top.plus(0.0, 16.5),
        0.0,
        "Drawn from the plan file as stated. Not a survey; boundaries are for",
    );
    svg.text("note", top.plus(0.0, 19.8), 0.0, "a licensed surveyor, and drawn utilities are not locations.");
}

/// A bar of alternating pieces in a round length.
fn bar(svg: &mut Svg, sheet: &Sheet, style: Style, at: Paper) {
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

/// Draws an example from a place to the right.
type Sample = Box<dyn Fn(&mut Svg, Paper)>;

/// The width of a sample in the legend: one whole pattern of a lot line.
const SAMPLE: f64 = 15.0;

/// Line types, hatches and the frames of the numbers.
fn legend(svg: &mut Svg, at: Paper, column: f64, with_findings: bool) {
    let mut rows: Vec<(&str, Sample)> = vec![
        ("lot line", Box::new(|svg, at| svg.line("lot", at, at.plus(SAMPLE, 0.0)))),
        ("existing", Box::new(|svg, at| sample(svg, "building", at))),
        ("proposed", Box::new(|svg, at| sample(svg, "building proposed", at))),
        ("to be removed", Box::new(|svg, at| sample(svg, "building remove", at))),
        ("easement", Box::new(|svg, at| sample(svg, "easement", at))),
        ("eaves", Box::new(|svg, at| svg.line("eave", at, at.plus(SAMPLE, 0.0)))),
    ];
    if with_findings {
        let frames = [
            ("fails", Frame::Square),
            ("verify in field", Frame::Triangle),
            ("missing", Frame::Diamond),
            ("about the data", Frame::Circle),
        ];
        for (word, frame) in frames {
            rows.push((word, Box::new(move |svg, at| frame.draw(svg, at.plus(SAMPLE / 2.0, 0.0)))));
        }
    }
    let half = rows.len().div_ceil(2);
    for (i, (word, sample)) in rows.iter().enumerate() {
        let (across, down) = (if i < half { 0.0 } else { column }, (i % half) as f64 * 6.6);
        let here = at.plus(across, down);
        sample(svg, here);
        svg.text("note", here.plus(SAMPLE + 2.0, 0.0), 0.0, word);
    }
}

fn sample(svg: &mut Svg, class: &str, at: Paper) {
    svg.rect(class, at.plus(0.0, -1.7), SAMPLE, 3.4);
}
