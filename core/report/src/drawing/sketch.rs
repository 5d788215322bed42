//! The sketch of a field sheet: the plan without findings, and each thing to take with its number.

use groundrule_units::Style;

use super::room::Room;
use super::sheet::Sheet;
use super::svg::{Paper, Svg, figure};
use super::{Written, dimensions, features, findings, furniture, ground, labels, open, symbols};
use crate::Report;

/// Width and height of the sketch in millimetres: what a field sheet has room for above its table.
const SKETCH: (f64, f64) = (186.0, 132.0);
/// The strip with scale bar and north arrow.
const STRIP: f64 = 10.0;
/// What stays empty around.
const EDGE: f64 = 3.0;

/// The plan with what is to be taken in the field, the first so many of the list.
pub fn sketch(report: &Report<'_>, most: usize) -> String {
    let Report { plan, site, review, style, .. } = report;
    let sheet = Sheet::within(site, *style, SKETCH, STRIP);
    let mut room = Room::new(sheet.width, sheet.height - STRIP, EDGE);
    let mut svg = open(&sheet, &format!("Field sketch of {}", plan.site.name), "");
    features::draw(&mut svg, site, &sheet);
    ground::claim(site, &sheet, &mut room);
    labels::letters(&mut svg, site, &sheet, &mut room);
    dimensions::lot_lines(&mut svg, site, &sheet, *style, Written::Plain, &mut room);
    let mut above = Svg::default();
    let list = review.retakes.get(..most.min(review.retakes.len())).unwrap_or_default();
    findings::draw_fieldwork(&mut above, list, &sheet, &mut room);
    labels::draw(&mut svg, site, &sheet, &mut room);
    strip(&mut svg, report, &sheet, *style);
    svg.raw(&above.finish());
    svg.close("svg");
    svg.finish()
}

fn strip(svg: &mut Svg, report: &Report<'_>, sheet: &Sheet, style: Style) {
    let (w, h) = (sheet.width, sheet.height);
    svg.rect("frame", Paper::new(0.4, 0.4), w - 0.8, h - 0.8);
    furniture::bar(svg, sheet, style, Paper::new(6.0, h - 8.2));
    let scale = format!("Scale {}, not a survey", sheet.scale);
    svg.text("note", Paper::new(6.0, h - 11.6), 0.0, &scale);
    let turn = report.plan.site.north.as_ref().map(|north| north.clockwise_of_up.degrees());
    svg.open("g", &format!("transform=\"translate({} {}) scale(.75)\"", figure(w - 11.0), figure(h - 9.5)));
    symbols::north(svg, Paper::new(0.0, 0.0), turn);
    svg.close("g");
}
