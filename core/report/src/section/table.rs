//! Levels at the side, and under the section its stations with the level of each surface there.

use groundrule_site::ground::{Section, SurfaceProfile};
use groundrule_units::Length;

use super::scale::{Frame, MARGIN};
use super::surfaces::level;
use crate::drawing::relief::interval::decimal;
use crate::drawing::room::{Room, text_width};
use crate::drawing::svg::{Paper, Svg, figure};

/// From one row of the table to the next.
const ROW: f64 = 5.4;
/// The size of a figure.
const FIGURE: f64 = 2.1;

/// Thin level lines with their figures on both sides.
pub(super) fn levels(svg: &mut Svg, frame: &Frame, room: &mut Room) {
    let step = frame.level_step;
    let places = usize::from(frame.unit.count(step) < 0.999);
    let mut up = 0.0;
    while step.metres() * up * frame.per_metre * frame.times <= frame.tall + 0.01 {
        let level = frame.low + step * up;
        let at = frame.at((Length::ZERO, level));
        let end = Paper::new(frame.end(), at.y);
        svg.line("level-line", at.plus(-2.0, 0.0), end.plus(2.0, 0.0));
        let text = decimal(frame.unit.count(level), places);
        let wide = text_width(&text, FIGURE);
        for side in [at.plus(-3.0 - wide / 2.0, 0.0), end.plus(3.0 + wide / 2.0, 0.0)] {
            svg.text("level-figure", side, 0.0, &text);
            room.take(crate::drawing::room::Block::around(side, wide, FIGURE));
        }
        up += 1.0;
    }
    for x in [frame.foot.x, frame.end()] {
        svg.line("thin", Paper::new(x, frame.top()), Paper::new(x, frame.foot.y));
    }
}

/// The table: stations at even steps and the end, and the level of each surface.
pub(super) fn stations(svg: &mut Svg, section: &Section, frame: &Frame) {
    let unit = frame.unit;
    let top = frame.foot.y + 4.0;
    let mut rows: Vec<(String, Option<&SurfaceProfile>)> = vec![(format!("station, {}", unit.word()), None)];
    rows.extend(section.existing.as_ref().map(|profile| ("existing".to_owned(), Some(profile))));
    rows.extend(section.proposed.as_ref().map(|profile| ("proposed".to_owned(), Some(profile))));
    let left = MARGIN + 3.0;
    for (k, (words, _)) in rows.iter().enumerate() {
        let y = top + (k as f64 + 0.5) * ROW;
        svg.text("note", Paper::new(left, y), 0.0, words);
        svg.line("thin", Paper::new(left, y + ROW / 2.0), Paper::new(frame.end() + 8.0, y + ROW / 2.0));
    }
    svg.line("thin", Paper::new(left, top), Paper::new(frame.end() + 8.0, top));
    for station in even(frame) {
        let x = frame.at((station, frame.low)).x;
        svg.line("thin", Paper::new(x, frame.foot.y), Paper::new(x, top));
        for (k, (_, profile)) in rows.iter().enumerate() {
            let text = match profile {
                None => figure(unit.count(station)),
                Some(profile) => profile
                    .pieces
                    .iter()
                    .find_map(|piece| level(piece, station))
                    .map_or_else(|| "–".to_owned(), |level| unit.level(level)),
            };
            svg.text("level-figure", Paper::new(x, top + (k as f64 + 0.5) * ROW), 0.0, &text);
        }
    }
    for bend in &section.bends {
        let x = frame.at((*bend, frame.low)).x;
        svg.line("section-bend", Paper::new(x, frame.top()), Paper::new(x, frame.foot.y));
    }
}

/// Even stations, and the end where that leaves it room.
fn even(frame: &Frame) -> Vec<Length> {
    let mut all = Vec::new();
    let mut at = Length::ZERO;
    let gap = Length::from_metres(11.0 / frame.per_metre);
    while at + gap <= frame.length {
        all.push(at);
        at = at + frame.station_step;
    }
    all.push(frame.length);
    all
}
