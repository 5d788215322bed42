//! What stands along the line: buildings, walls, lot lines, plants, paving, each with its name over the section.

use groundrule_plan::Status;
use groundrule_site::ground::{Crossing, Section, SurfaceProfile};
use groundrule_site::{Fact, Feature, Site};
use groundrule_survey::Shape;
use groundrule_units::Length;

use super::scale::Frame;
use super::surfaces::{last, level_near};
use crate::drawing::name as title;
use crate::drawing::relief::interval::Unit;
use crate::drawing::room::{Place, Room, text_width};
use crate::drawing::svg::{Paper, Svg};

/// Kinds that a section has no use for: what is only a line on the plan, or the ground itself.
const LEFT_OUT: [&str; 14] = [
    "lot",
    "sheet",
    "mark",
    "contour",
    "breakline",
    "grading-limit",
    "flow-arrow",
    "section-line",
    "drainage-area",
    "area",
    "easement",
    "opening",
    "ground-cover",
    "sight-area",
];
/// How high a building without a stated height is drawn over its floor, in millimetres, with a break line.
const BROKEN: f64 = 15.0;
/// The size of a name.
const NAME: f64 = 2.2;

/// Draws everything that the line crosses.
pub(super) fn draw(
    svg: &mut Svg,
    above: &mut Svg,
    site: &Site,
    (section, name): (&Section, &str),
    frame: &Frame,
    room: &mut Room,
) {
    let Some(surface) = last(section) else { return };
    let mut lot_lines: Vec<(Length, String)> = Vec::new();
    for crossing in &section.crossings {
        let Some(feature) = site.feature(crossing.feature) else { continue };
        // A line does not cross itself.
        if feature.id.0 == name || LEFT_OUT.iter().any(|kind| site.kinds().is_a(&feature.kind, kind)) {
            continue;
        }
        let one = One { site, surface, frame, crossing, feature };
        one.draw(svg);
        // At a corner of the lot two lines are met at once; one name is enough where both have the same.
        if one.is("lot-line") {
            let told = (crossing.from, one.words());
            let near = |(at, words): &(Length, String)| {
                (*at - told.0).abs() < Length::from_feet(1.0) && *words == told.1
            };
            if lot_lines.iter().any(near) {
                continue;
            }
            lot_lines.push(told);
        }
        one.named(above, room);
    }
}

/// One thing that the line crosses.
struct One<'a> {
    site: &'a Site,
    surface: &'a SurfaceProfile,
    frame: &'a Frame,
    crossing: &'a Crossing,
    feature: &'a Feature,
}

impl One<'_> {
    fn is(&self, kind: &str) -> bool {
        self.site.kinds().is_a(&self.feature.kind, kind)
    }

    fn middle(&self) -> Length {
        (self.crossing.from + self.crossing.to) * 0.5
    }

    fn ground(&self, station: Length) -> Option<Paper> {
        level_near(self.surface, station).map(|level| self.frame.at((station, level)))
    }

    /// The ends of the ground under it; where it is a hole, at its walls.
    fn feet(&self) -> Option<(Paper, Paper)> {
        let (from, to) = (self.ground(self.crossing.from), self.ground(self.crossing.to));
        let level =
            |foot: Paper, station: Length| Paper::new(self.frame.at((station, self.frame.low)).x, foot.y);
        match (from, to) {
            (Some(a), Some(b)) => Some((a, b)),
            (Some(a), None) => Some((a, level(a, self.crossing.to))),
            (None, Some(b)) => Some((level(b, self.crossing.from), b)),
            (None, None) => None,
        }
    }

    fn status(&self) -> &'static str {
        match self.feature.status {
            Some(Status::Proposed) => " proposed",
            Some(Status::Remove) => " remove",
            Some(Status::Existing) | None => "",
        }
    }

    fn draw(&self, svg: &mut Svg) {
        let outline = matches!(self.feature.shape, Shape::Outline { .. });
        if self.is("lot-line") {
            let x = self.frame.at((self.middle(), self.frame.low)).x;
            svg.line("section-lot", Paper::new(x, self.frame.top() - 6.0), Paper::new(x, self.frame.foot.y));
        } else if self.is("planting") {
            self.plant(svg);
        } else if self.is("structure") && outline && !self.is("wall") {
            self.building(svg);
        } else if self.is("wall") {
            self.wall(svg);
        } else if self.is("fence") || self.is("gate") {
            self.fence(svg);
        } else if self.is("paving") {
            self.paving(svg);
        } else if let Some(at) = self.ground(self.middle()) {
            svg.circle("solid", at, 0.6);
        }
    }

    /// Walls up from the lower ground, the floor at its level, broken off where the height is not stated.
    fn building(&self, svg: &mut Svg) {
        let Some((a, b)) = self.feet() else { return };
        let floor = amount(self.feature, "floor_level");
        let floor_y = floor.map(|floor| self.frame.at((Length::ZERO, floor)).y);
        let base = floor_y.unwrap_or(a.y.min(b.y));
        let top = base - BROKEN;
        let status = self.status();
        let class = format!("section-building{status}");
        svg.polygon("section-inside", &[&[a, b, Paper::new(b.x, top), Paper::new(a.x, top)]]);
        svg.line(&class, Paper::new(a.x, a.y.max(base) + 2.0), Paper::new(a.x, top));
        svg.line(&class, Paper::new(b.x, b.y.max(base) + 2.0), Paper::new(b.x, top));
        if let Some(y) = floor_y {
            svg.line("section-floor", Paper::new(a.x, y), Paper::new(b.x, y));
        }
        svg.polyline("thin", &broken(Paper::new(a.x, top), Paper::new(b.x, top)));
    }

    /// From the lower ground beside it to its stated top, or to the higher ground.
    fn wall(&self, svg: &mut Svg) {
        let foot = Length::from_feet(0.5);
        let around =
            [self.crossing.from - foot, self.crossing.from, self.crossing.to, self.crossing.to + foot];
        let levels: Vec<Length> =
            around.into_iter().filter_map(|station| level_near(self.surface, station)).collect();
        let (Some(low), Some(high)) = (levels.iter().min().copied(), levels.iter().max().copied()) else {
            return;
        };
        let height = amount(self.feature, "height").map(|height| low + height);
        let top = self.crossing.top.or(height).unwrap_or(high).max(high);
        let (a, b) = (self.frame.at((self.crossing.from, top)), self.frame.at((self.crossing.to, low)));
        // A wall thinner than a line is still seen.
        let wide = (b.x - a.x).max(0.8);
        svg.rect(&format!("section-wall{}", self.status()), a, wide, (b.y - a.y).max(0.5) + 1.5);
    }

    fn fence(&self, svg: &mut Svg) {
        let Some(foot) = self.ground(self.middle()) else { return };
        let height =
            amount(self.feature, "height").map(|h| h.metres() * self.frame.per_metre * self.frame.times);
        svg.line(&format!("section-fence{}", self.status()), foot, foot.plus(0.0, -height.unwrap_or(8.0)));
    }

    fn paving(&self, svg: &mut Svg) {
        let inside = |at: &&(Length, Length)| at.0 > self.crossing.from && at.0 < self.crossing.to;
        let ends = [self.ground(self.crossing.from), self.ground(self.crossing.to)];
        let between = self.surface.pieces.iter().flatten().filter(inside).map(|at| self.frame.at(*at));
        let [from, to] = ends;
        let path: Vec<Paper> = from.into_iter().chain(between).chain(to).collect();
        if path.len() > 1 {
            svg.polyline("section-paving", &path);
        }
    }

    /// A trunk where the middle of the crown is met, and the crown as wide as it is met.
    fn plant(&self, svg: &mut Svg) {
        let Some(foot) = self.ground(self.middle()) else { return };
        let half = (self.crossing.to - self.crossing.from).metres() * self.frame.per_metre / 2.0;
        let stated =
            amount(self.feature, "height").map(|h| h.metres() * self.frame.per_metre * self.frame.times);
        let room = (foot.y - self.frame.top() + 10.0).max(6.0);
        let tall = stated.unwrap_or(16.0).min(room);
        let tree = self.is("tree");
        let (stem, crown) = if tree { (tall * 0.4, tall * 0.3) } else { (0.0, tall * 0.2) };
        if tree {
            svg.line("section-trunk", foot, foot.plus(0.0, -stem - crown * 0.5));
        }
        let middle = foot.plus(0.0, -stem - crown);
        let ring: Vec<Paper> = (0..28)
            .map(|i| {
                let (sin, cos) = libm::sincos(f64::from(i) * std::f64::consts::TAU / 28.0);
                middle.plus(cos * half, sin * crown)
            })
            .collect();
        svg.polygon(&format!("section-crown{}", self.status()), &[&ring]);
    }

    /// Its name: inside a building, else over the section with a line down to it.
    fn named(&self, svg: &mut Svg, room: &mut Room) {
        let text = self.words();
        let floor = amount(self.feature, "floor_level");
        let outline = matches!(self.feature.shape, Shape::Outline { .. });
        if self.is("structure") && outline && !self.is("wall") && self.inside(svg, room, &text, floor) {
            return;
        }
        let x = self.frame.at((self.middle(), self.frame.low)).x;
        let from = self.ground(self.middle()).map_or(self.frame.top(), |at| at.y - 1.0);
        let (long, high) = (text_width(&text, NAME) + 1.0, NAME + 0.8);
        let shifts = [0.0, 3.2, -3.2, 6.4, -6.4, 9.6, -9.6];
        let foot = self.frame.top() - 9.0;
        let place = |shift: f64| Place {
            at: Paper::new(x + shift, foot - long / 2.0),
            turn: -90.0,
            worse: shift.abs() * 0.3,
        };
        if let Some(place) = room.best(shifts.map(place), long, high) {
            svg.text("label section-name", place.at, -90.0, &text);
            let bend = Paper::new(place.at.x, foot + 0.8);
            if !self.is("lot-line") {
                svg.polyline(
                    "section-leader",
                    &[bend, Paper::new(x, foot + 4.0), Paper::new(x, from.max(foot + 4.0))],
                );
            }
        }
    }

    fn inside(&self, svg: &mut Svg, room: &mut Room, text: &str, floor: Option<Length>) -> bool {
        let Some((a, b)) = self.feet() else { return false };
        let base = floor.map_or(a.y.min(b.y), |floor| self.frame.at((Length::ZERO, floor)).y);
        let level = floor.map_or_else(
            || "floor level not stated".to_owned(),
            |floor| format!("FF {}", self.frame.unit.level(floor)),
        );
        let wide = text_width(text, NAME).max(text_width(&level, NAME)) + 1.0;
        let middle = f64::midpoint(a.x, b.x);
        if b.x - a.x < wide {
            return false;
        }
        let place = [Place::level(Paper::new(middle, base - 5.6), 0.0)];
        let Some(place) = room.best(place, wide, 6.4) else { return false };
        svg.text("label section-name", place.at.plus(0.0, -1.6), 0.0, text);
        svg.text("label section-name", place.at.plus(0.0, 1.8), 0.0, &level);
        true
    }

    fn words(&self) -> String {
        let own = title(self.feature);
        if self.is("lot-line") {
            return match self.feature.facts.get("role") {
                Some(Fact::Text(role)) => format!("{} lot line", role.replace('_', " ")),
                _ => "lot line".to_owned(),
            };
        }
        let kind = self.feature.kind.replace('-', " ");
        let own = if own.contains(&kind) { own } else { format!("{own} ({kind})") };
        match self.crossing.top {
            Some(top) if self.is("wall") => format!("{own}, TW {}", level(self.frame.unit, top)),
            _ => own,
        }
    }
}

fn level(unit: Unit, level: Length) -> String {
    unit.level(level)
}

/// A line broken in its middle: what goes on is not drawn.
fn broken(a: Paper, b: Paper) -> Vec<Paper> {
    let middle = a.middle(b);
    let zigzag = [(-2.0, 0.0), (-1.0, -1.8), (1.0, 1.8), (2.0, 0.0)];
    let zigzag = zigzag.into_iter().map(|(x, y)| middle.plus(x, y));
    std::iter::once(a).chain(zigzag).chain([b]).collect()
}

fn amount(feature: &Feature, name: &str) -> Option<Length> {
    match feature.facts.get(name)? {
        Fact::Amount(amount) => amount.value().length(),
        _ => None,
    }
}
