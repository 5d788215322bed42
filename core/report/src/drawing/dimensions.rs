//! Dimension strings, and what is written along the lot lines.

use groundrule_plan::Role;
use groundrule_site::{Fact, Feature, FeatureId, Site};
use groundrule_survey::Shape;
use groundrule_units::Style;

use super::Written;
use super::features::places;
use super::room::{Block, Room, text_width};
use super::sheet::Sheet;
use super::svg::{Paper, Svg};
use super::symbols::upright;

/// Half the length of the slanted stroke at the end of a dimension.
const TICK: f64 = 1.1;

/// A dimension line with a slanted stroke at each end.
pub(crate) fn string(svg: &mut Svg, class: &str, from: Paper, to: Paper) {
    svg.line(class, from, to);
    for end in [from, to] {
        svg.line(class, end.plus(-TICK * 0.7, TICK * 0.7), end.plus(TICK * 0.7, -TICK * 0.7));
    }
}

/// Length, name of the line and street beside each lot line, outside the lot.
pub(super) fn lot_lines(
    svg: &mut Svg,
    site: &Site,
    sheet: &Sheet,
    style: Style,
    written: Written,
    room: &mut Room,
) {
    let mut streets: Vec<String> = Vec::new();
    for (id, line) in site.features().filter(|(_, f)| f.kind == "lot-line") {
        let Shape::Line { path, .. } = &line.shape else { continue };
        let path = places(sheet, path);
        for w in path.windows(2) {
            room.take_line(w[0], w[1], 0.8);
        }
        let total: f64 = path.windows(2).map(|w| w[0].distance(w[1])).sum();
        let Some((at, (ux, uy))) = halfway(&path, total / 2.0) else { continue };
        let turn = upright(libm::atan2(uy, ux).to_degrees());
        // Lot lines run with the lot on their left, so outside is on the right: down on the paper becomes up.
        let out = (-uy, ux);
        let label = label(site, id, line, style, written);
        let width = text_width(&label, 2.1) + 2.0;
        if width < total {
            text(svg, "label line-name", at, out, 2.6, turn, &label, room, 2.1);
        }
        if let Some(street) =
            fact_text(line, "street").filter(|street| !streets.contains(&(*street).to_owned()))
        {
            let name = street.to_uppercase();
            if text_width(&name, 4.6) < total.max(40.0) {
                streets.push(street.to_owned());
                text(svg, "street", at, out, 9.0, turn, &name, room, 4.6);
            }
        }
    }
}

#[allow(clippy::too_many_arguments, reason = "text along a line is all of these")]
fn text(
    svg: &mut Svg,
    class: &str,
    at: Paper,
    out: (f64, f64),
    off: f64,
    turn: f64,
    text: &str,
    room: &mut Room,
    size: f64,
) {
    let middle = at.plus(out.0 * off, out.1 * off);
    svg.text(class, middle, turn, text);
    let half = text_width(text, size) / 2.0;
    let (sin, cos) = libm::sincos(turn.to_radians());
    let (from, to) = (middle.plus(-cos * half, -sin * half), middle.plus(cos * half, sin * half));
    room.take_line(from, to, size);
    room.take(Block::around(middle, size, size));
}

/// What a lot line is called, and how long it is.
fn label(site: &Site, id: FeatureId, line: &Feature, style: Style, written: Written) -> String {
    let length = site.length(id);
    let length = written.length(length.value(), length.spread(), style);
    let role = match fact_text(line, "role") {
        Some(role) if role == role_word(Role::Front) => "FRONT LOT LINE",
        Some(role) if role == role_word(Role::StreetSide) => "STREET SIDE LOT LINE",
        Some(role) if role == role_word(Role::Rear) => "REAR LOT LINE",
        Some(role) if role == role_word(Role::Side) => "SIDE LOT LINE",
        _ => "LOT LINE, ROLE NOT STATED",
    };
    let assumed = matches!(line.facts.get("assumed"), Some(Fact::Flag(true)));
    let assumed = if assumed { " (ASSUMED)" } else { "" };
    format!("{role}{assumed}  {length}")
}

fn role_word(role: Role) -> &'static str {
    match role {
        Role::Front => "front",
        Role::Side => "side",
        Role::StreetSide => "street_side",
        Role::Rear => "rear",
    }
}

fn fact_text<'a>(feature: &'a Feature, name: &str) -> Option<&'a str> {
    match feature.facts.get(name)? {
        Fact::Text(text) => Some(text),
        _ => None,
    }
}

/// The place so far along a path, and the direction there.
fn halfway(path: &[Paper], mut left: f64) -> Option<(Paper, (f64, f64))> {
    for w in path.windows(2) {
        let length = w[0].distance(w[1]);
        if length > 0.0 && left <= length {
            let direction = ((w[1].x - w[0].x) / length, (w[1].y - w[0].y) / length);
            return Some((w[0].towards(w[1], left / length), direction));
        }
        left -= length;
    }
    None
}
