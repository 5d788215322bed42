//! The plan as a drawing: SVG in millimetres of paper, at a standard scale.

mod dimensions;
mod features;
mod findings;
mod frame;
mod furniture;
mod ground;
mod labels;
mod legend;
mod pens;
mod room;
mod sheet;
pub(crate) mod svg;
mod symbols;

use groundrule_plan::Plan;
use groundrule_review::Review;
use groundrule_site::Site;
use groundrule_units::Style;

use crate::Report;
pub(crate) use frame::{Frame, badge};
pub(crate) use labels::name;
use room::Room;
use sheet::Sheet;
use svg::{Svg, escape, figure};

/// The plan without a review.
pub fn plan(plan: &Plan, site: &Site, style: Style) -> String {
    draw(plan, site, None, style)
}

/// The plan with the numbered findings of its review.
pub fn review(report: &Report<'_>) -> String {
    draw(report.plan, report.site, Some(report.review), report.style)
}

fn draw(plan: &Plan, site: &Site, review: Option<&Review>, style: Style) -> String {
    let sheet = Sheet::fit(site, style);
    let mut room = Room::new(sheet.width, sheet.height - sheet::STRIP, sheet::MARGIN);
    let (w, h) = (figure(sheet.width), figure(sheet.height));
    let mut svg = Svg::default();
    svg.open(
        "svg",
        &format!(
            "xmlns=\"http://www.w3.org/2000/svg\" class=\"plan\" viewBox=\"0 0 {w} {h}\" width=\"{w}mm\" height=\"{h}mm\" \
             role=\"group\" aria-label=\"Plan of {}\"",
            escape(&plan.site.name)
        ),
    );
    svg.raw("<style>");
    svg.raw(pens::STYLE);
    svg.raw("</style>\n");
    svg.raw(pens::PATTERNS);
    svg.rect("sheet", svg::Paper::new(0.0, 0.0), sheet.width, sheet.height);
    features::draw(&mut svg, site, &sheet);
    // What is drawn takes its room first, then what stands along the lot lines, then numbers, then names.
    ground::claim(site, &sheet, &mut room);
    labels::letters(&mut svg, site, &sheet, &mut room);
    let mut above = Svg::default();
    dimensions::lot_lines(&mut svg, site, &sheet, style, &mut room);
    if let Some(review) = review {
        findings::draw(&mut above, site, review, &sheet, style, &mut room);
    }
    labels::draw(&mut svg, site, &sheet, &mut room);
    furniture::draw(&mut svg, plan, site, &sheet, style, review.is_some());
    svg.raw(&above.finish());
    svg.close("svg");
    svg.finish()
}
