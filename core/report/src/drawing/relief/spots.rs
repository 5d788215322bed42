//! Spot levels: a small cross with its figure, that of a proposed level in a box, as many as find room.

use std::collections::BTreeSet;

use groundrule_site::Site;
use groundrule_site::ground::Spot;
use groundrule_survey::Surface;
use groundrule_units::LevelTerm;

use super::super::clip::Window;
use super::super::room::{Block, Place, Room, text_width};
use super::super::sheet::Sheet;
use super::super::svg::{Paper, Svg};
use super::interval::Unit;

/// The size of a figure.
const FIGURE: f64 = 1.8;
/// Half a stroke of the cross.
const CROSS: f64 = 0.7;
/// Of several levels in one square of this size the first is written.
const SQUARE: f64 = 2.0;
/// Where there are more levels than this on the sheet, squares are so large that about so many are written.
const MANY: usize = 150;

/// Draws the levels of one surface; proposed ones are those the proposed surface does not share.
pub(super) fn draw(
    svg: &mut Svg,
    site: &Site,
    sheet: &Sheet,
    of: Surface,
    unit: Unit,
    window: Window,
    room: &mut Room,
) {
    let Some(ground) = site.ground(of) else { return };
    let mut squares: BTreeSet<(i64, i64)> = BTreeSet::new();
    let mut spots: Vec<(Paper, Spot)> = ground
        .spots()
        .into_iter()
        .filter(|spot| spot.of == of)
        .map(|spot| (sheet.place(spot.at), spot))
        .collect();
    spots.retain(|(at, _)| window.holds(*at) && room.holds(*at));
    let square = square(spots.len(), window);
    // What is named by a term says most.
    spots.sort_by_key(|(_, spot)| (word(spot.term).is_empty(), spot.at.x, spot.at.y, spot.level));
    for (at, spot) in spots {
        #[allow(clippy::cast_possible_truncation, reason = "paper is a few metres wide at most")]
        let square = ((at.x / square).floor() as i64, (at.y / square).floor() as i64);
        if !squares.insert(square) {
            continue;
        }
        one(svg, at, &text(&spot, unit), of == Surface::Proposed, room);
    }
}

/// How large the squares are for so many levels.
fn square(count: usize, window: Window) -> f64 {
    let area = (window.high.x - window.low.x) * (window.high.y - window.low.y);
    if count > MANY { libm::sqrt(area / MANY as f64).max(SQUARE) } else { SQUARE }
}

/// True when a surface has more levels than are written.
pub(super) fn are_many(site: &Site) -> bool {
    let count = |of: Surface| {
        site.ground(of).map_or(0, |ground| ground.spots().iter().filter(|s| s.of == of).count())
    };
    count(Surface::Existing) > MANY || count(Surface::Proposed) > MANY
}

/// The figure with the term where that says more than that it is ground.
fn text(spot: &Spot, unit: Unit) -> String {
    let (word, level) = (word(spot.term), unit.level(spot.level));
    if word.is_empty() { level } else { format!("{word} {level}") }
}

fn word(term: Option<LevelTerm>) -> &'static str {
    match term {
        None | Some(LevelTerm::FinishedGrade | LevelTerm::ExistingGrade) => "",
        Some(term) => term.short(),
    }
}

fn one(svg: &mut Svg, at: Paper, text: &str, boxed: bool, room: &mut Room) {
    let (wide, high) = (text_width(text, FIGURE) + 0.9, FIGURE + 0.7);
    let (across, down) = (wide / 2.0 + CROSS + 0.5, high / 2.0 + CROSS + 0.3);
    let places = [
        (across, 0.0),
        (across, -down),
        (across, down),
        (-across, 0.0),
        (-across, -down),
        (-across, down),
        (0.0, -down),
        (0.0, down),
    ];
    let places =
        places.into_iter().zip(0..).map(|((x, y), i)| Place::level(at.plus(x, y), f64::from(i) * 0.3));
    let Some(place) = room.best(places, wide, high) else { return };
    room.take(Block::around(at, CROSS, CROSS));
    cross(svg, at);
    figure(svg, place.at, text, boxed);
}

fn cross(svg: &mut Svg, at: Paper) {
    svg.line("spot-cross", at.plus(-CROSS, 0.0), at.plus(CROSS, 0.0));
    svg.line("spot-cross", at.plus(0.0, -CROSS), at.plus(0.0, CROSS));
}

fn figure(svg: &mut Svg, at: Paper, text: &str, boxed: bool) {
    let (wide, high) = (text_width(text, FIGURE) + 0.5, FIGURE + 0.5);
    if boxed {
        svg.rect("spot-box", at.plus(-wide / 2.0, -high / 2.0), wide, high);
    }
    svg.text(if boxed { "spot-figure new" } else { "label spot-figure" }, at, 0.0, text);
}

/// A sample for the legend.
pub(super) fn sample(svg: &mut Svg, at: Paper, text: &str, boxed: bool) {
    cross(svg, at);
    figure(svg, at.plus(text_width(text, FIGURE) / 2.0 + 1.6, 0.0), text, boxed);
}
