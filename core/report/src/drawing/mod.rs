//! The plan as a drawing: SVG in millimetres of paper, at a standard scale.

mod clip;
mod dimensions;
mod errors;
mod features;
mod findings;
mod frame;
mod furniture;
mod ground;
mod labels;
mod legend;
mod markings;
pub(crate) mod pens;
pub(crate) mod relief;
pub(crate) mod room;
mod setbacks;
pub(crate) mod sheet;
mod sketch;
pub(crate) mod svg;
mod symbols;

use groundrule_plan::Plan;
use groundrule_review::Review;
use groundrule_site::Site;
use groundrule_survey::Layout;
use groundrule_units::Style;

use crate::Report;
use errors::Errors;
pub(crate) use frame::{Frame, badge};
pub(crate) use labels::name;
pub(crate) use pens::STYLE;
use relief::Relief;
use room::Room;
use sheet::Sheet;
pub use sketch::sketch;
use svg::{Svg, escape, figure};
pub(crate) use symbols::upright;

/// The plan without a review.
pub fn plan(plan: &Plan, site: &Site, style: Style) -> String {
    draw(plan, site, None, style, None)
}

/// The plan without a review, with the error figures of its points and the plus-or-minus of its dimensions.
pub fn plan_with_errors(plan: &Plan, layout: &Layout, site: &Site, style: Style) -> String {
    draw(plan, site, None, style, Some(layout))
}

/// The plan with the numbered findings of its review.
pub fn review(report: &Report<'_>) -> String {
    let errors = report.error_figures.then_some(report.layout);
    draw(report.plan, report.site, Some(report.review), report.style, errors)
}

fn draw(plan: &Plan, site: &Site, review: Option<&Review>, style: Style, errors: Option<&Layout>) -> String {
    let datum = plan.ground.datum.as_ref().map(|datum| datum.value.as_str());
    let relief = Relief::of(site, style, datum);
    let sheet = Sheet::fit(site, style, relief.as_ref().map_or(0.0, Relief::height));
    let mut room = Room::new(sheet.width, sheet.height - sheet.strip, sheet::MARGIN);
    let more = if errors.is_some() { pens::ERROR_STYLE } else { "" };
    let (ground_style, ground_patterns) = relief::style(site);
    let mut sheet_svg =
        open(&sheet, &format!("Plan of {}", plan.site.name), &format!("{more}{ground_style}"));
    sheet_svg.raw(ground_patterns);
    let errors = errors.map(|layout| Errors::of(layout, &sheet));
    if let Some(review) = review {
        setbacks::ground(&mut sheet_svg, review, &sheet);
    }
    features::flat(&mut sheet_svg, site, &sheet);
    // The ground lies between what covers it and what stands on it; its figures are placed when the room is known.
    let mut svg = Svg::default();
    features::standing(&mut svg, site, &sheet);
    if let Some(review) = review {
        markings::draw(&mut svg, site, review, &sheet);
    }
    // What is drawn takes its room first, then what stands along the lot lines, then numbers, then names.
    ground::claim(site, &sheet, &mut room);
    if let Some(review) = review {
        setbacks::lines(&mut svg, review, &sheet, &mut room);
    }
    labels::letters(&mut svg, site, &sheet, &mut room);
    let mut above = Svg::default();
    let written = if errors.is_some() { Written::WithSpread } else { Written::Plain };
    dimensions::lot_lines(&mut svg, site, &sheet, style, written, &mut room);
    if let Some(errors) = &errors {
        errors.draw(&mut svg, &mut room);
    }
    if let Some(relief) = &relief {
        relief.under(&mut sheet_svg, &sheet, &mut room);
    }
    if let Some(review) = review {
        setbacks::labels(&mut svg, site, review, &sheet, style, &mut room);
        findings::draw(&mut above, site, review, &sheet, style, written, &mut room);
    }
    labels::draw(&mut svg, site, &sheet, &mut room);
    if let Some(relief) = &relief {
        relief.over(&mut svg, &sheet, &mut room);
    }
    let explained = legend::Explained {
        review,
        setbacks: review.is_some_and(|review| !review.buildable.is_empty()),
        errors: errors.as_ref(),
    };
    furniture::draw(&mut svg, plan, site, &sheet, style, &explained);
    if let Some(relief) = &relief {
        let top = sheet.height - sheet::MARGIN - relief.height();
        relief.explain(&mut svg, &sheet, svg::Paper::new(sheet::MARGIN + 4.0, top + 2.6));
    }
    sheet_svg.raw(&svg.finish());
    sheet_svg.raw(&above.finish());
    sheet_svg.close("svg");
    sheet_svg.finish()
}

/// How dimensions are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Written {
    /// The figure alone.
    Plain,
    /// With its plus-or-minus.
    WithSpread,
}

impl Written {
    fn length(
        self,
        value: groundrule_units::Quantity,
        spread: groundrule_units::Quantity,
        style: Style,
    ) -> String {
        match self {
            Self::Plain => groundrule_units::show(value, style),
            Self::WithSpread => groundrule_units::show_with_spread(value, spread, style),
        }
    }
}

/// An empty sheet with its style, and what is added to it.
fn open(sheet: &Sheet, label: &str, style: &str) -> Svg {
    let mut svg = head(sheet.width, sheet.height, label, &format!("{}{style}", pens::STYLE));
    svg.raw(pens::PATTERNS);
    svg.rect("sheet", svg::Paper::new(0.0, 0.0), sheet.width, sheet.height);
    svg
}

/// An empty sheet of this size in millimetres with this style.
pub(crate) fn blank(width: f64, height: f64, label: &str, style: &str) -> Svg {
    let mut svg = head(width, height, label, style);
    svg.rect("sheet", svg::Paper::new(0.0, 0.0), width, height);
    svg
}

fn head(width: f64, height: f64, label: &str, style: &str) -> Svg {
    let (w, h) = (figure(width), figure(height));
    let mut svg = Svg::default();
    svg.open(
        "svg",
        &format!(
            "xmlns=\"http://www.w3.org/2000/svg\" class=\"plan\" viewBox=\"0 0 {w} {h}\" width=\"{w}mm\" height=\"{h}mm\" \
             role=\"group\" aria-label=\"{}\"",
            escape(label)
        ),
    );
    svg.raw("<style>");
    svg.raw(style);
    svg.raw("</style>\n");
    svg
}
