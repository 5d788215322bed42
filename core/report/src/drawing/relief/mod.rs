//! The ground on the drawing: contours, levels, falls, hollows and banks, in light pens under what stands on it.

mod contours;
mod falls;
mod hachures;
mod hollows;
pub(crate) mod interval;
mod legend;
mod pens;
mod spots;

use groundrule_site::Site;
use groundrule_site::ground::{Ground, Pond};
use groundrule_survey::{Position, Shape, Surface};
use groundrule_units::Style;

use super::features::places;
use super::room::Room;
use super::sheet::{Sheet, lies_flat};
use super::svg::{Paper, Svg};
use interval::{Interval, Unit};

/// Kinds that only plans of the ground have, with pens of their own.
const KINDS: [&str; 11] = [
    "contour",
    "breakline",
    "swale",
    "inlet",
    "downspout",
    "drain-outlet",
    "flow-arrow",
    "grading-limit",
    "section-line",
    "curb",
    "drainage-area",
];

/// The style sheet and hatches of the ground; nothing where there is none of it.
pub(super) fn style(site: &Site) -> (&'static str, &'static str) {
    let own = |kind: &str| KINDS.iter().any(|ancestor| site.kinds().is_a(kind, ancestor));
    if site.final_ground().is_some() || site.features().any(|(_, feature)| own(&feature.kind)) {
        (pens::STYLE, pens::PATTERNS)
    } else {
        ("", "")
    }
}

/// What there is of the ground to draw.
pub(super) struct Relief<'a> {
    site: &'a Site,
    unit: Unit,
    /// The surface that water will run on.
    ground: &'a Ground,
    regraded: bool,
    ponds: Vec<Pond>,
    /// The steepest bank is this steep, none of it a bank where it is zero.
    steepest: f64,
    style: Style,
    datum: Option<String>,
}

impl<'a> Relief<'a> {
    /// What a site has of the ground; none without a surface.
    pub(super) fn of(site: &'a Site, style: Style, datum: Option<&str>) -> Option<Self> {
        let ground = site.ground(site.final_ground()?)?;
        let inlets: Vec<Position> = site
            .features()
            .filter(|(_, feature)| site.kinds().is_a(&feature.kind, "inlet"))
            .filter_map(|(_, feature)| match &feature.shape {
                Shape::Spot(point) | Shape::Disc { centre: point, .. } => Some(point.at),
                _ => None,
            })
            .collect();
        let mut ponds = ground.ponds(&inlets);
        ponds.retain(|pond| pond.depth.metres() >= hollows::SHALLOW);
        let banks = ground.facets().into_iter().filter(hachures::is_steep);
        let steepest = banks.map(|fall| fall.slope.fraction()).fold(0.0, f64::max);
        let datum = datum.map(str::to_owned);
        let regraded = site.is_regraded();
        Some(Self { site, unit: Unit::of(style), ground, regraded, ponds, steepest, style, datum })
    }

    /// How much taller the strip below the plan is for the legend.
    pub(super) fn height(&self) -> f64 {
        legend::height(self)
    }

    /// Draws what lies under buildings and plants. Figures keep off what has taken its room.
    pub(super) fn under(&self, svg: &mut Svg, sheet: &Sheet, room: &mut Room) {
        let window = sheet.window();
        let cover = Cover::of(self.site, sheet);
        svg.open("g", "class=\"relief\"");
        hollows::areas(svg, &self.ponds, sheet, window);
        hachures::draw(svg, self.ground, sheet, window);
        contours::draw(svg, self.site, sheet, self.interval(sheet), window, &cover, room);
        svg.close("g");
    }

    /// Draws levels, arrows and marks, over everything that has no number.
    pub(super) fn over(&self, svg: &mut Svg, sheet: &Sheet, room: &mut Room) {
        let window = sheet.window();
        let cover = Cover::of(self.site, sheet);
        svg.open("g", "class=\"relief\"");
        hollows::marks(svg, &self.ponds, sheet, self.unit, window, room);
        spots::draw(svg, self.site, sheet, Surface::Proposed, self.unit, window, room);
        falls::draw(svg, self.ground, sheet, window, &cover, room);
        spots::draw(svg, self.site, sheet, Surface::Existing, self.unit, window, room);
        svg.close("g");
    }

    /// Explains all of it from the upper left of its part of the strip.
    pub(super) fn explain(&self, svg: &mut Svg, sheet: &Sheet, at: Paper) {
        legend::draw(self, svg, sheet, at);
    }

    /// One interval for both surfaces, by the levels of the ground and its slope.
    fn interval(&self, sheet: &Sheet) -> Interval {
        let grounds =
            [Surface::Existing, Surface::Proposed].into_iter().filter_map(|of| self.site.ground(of));
        let window = sheet.window();
        let (low, high) = (sheet.position(window.low), sheet.position(window.high));
        // Up the sheet is down the paper.
        let (low, high) = (Position { y: high.y, ..low }, Position { y: low.y, ..high });
        let ranges = grounds.map(|ground| ground.range_within(low, high));
        let range = ranges.flatten().reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
        let ring = [low, Position { y: low.y, ..high }, high, Position { y: high.y, ..low }];
        let slope = self.ground.fall_within(&ring).map_or(0.0, |fall| fall.mean.fraction());
        Interval::choose(self.style, range.unwrap_or_default(), slope, sheet.per_metre)
    }
}

/// What hides the ground: outlines of what stands on it.
struct Cover {
    rings: Vec<Vec<Paper>>,
}

impl Cover {
    fn of(site: &Site, sheet: &Sheet) -> Self {
        let standing = site.features().filter(|(_, feature)| {
            sheet.shows(feature)
                && !lies_flat(site, feature)
                && ["structure", "water", "equipment"]
                    .iter()
                    .any(|kind| site.kinds().is_a(&feature.kind, kind))
        });
        let rings = standing.filter_map(|(_, feature)| match &feature.shape {
            Shape::Outline { ring, .. } => Some(places(sheet, ring)),
            _ => None,
        });
        Self { rings: rings.collect() }
    }

    /// True for a place under one of them.
    fn hides(&self, at: Paper) -> bool {
        self.rings.iter().any(|ring| {
            let edges = ring.iter().zip(ring.iter().cycle().skip(1));
            let crossed = edges.filter(|(a, b)| {
                (a.y > at.y) != (b.y > at.y) && at.x < a.x + (b.x - a.x) * (at.y - a.y) / (b.y - a.y)
            });
            crossed.count() % 2 == 1
        })
    }
}

/// Whether the drawing of the ground shows this feature, so that it needs no symbol of its own: a contour or a level
/// that is part of a surface.
pub(super) fn shows(site: &Site, feature: &groundrule_site::Feature) -> bool {
    let is = |kind: &str| site.kinds().is_a(&feature.kind, kind);
    (is("contour") || is("spot-level"))
        && feature.facts.contains_key("level")
        && site.final_ground().is_some()
}
