//! Both surfaces of a section: lines, the cut ground under the upper of what will be, its slopes, earth to be moved.

use groundrule_site::ground::{Leg, Moved, Section, SurfaceProfile};
use groundrule_units::Length;

use super::scale::Frame;
use crate::drawing::relief::interval::decimal;
use crate::drawing::room::{Block, Place, Room, text_width};
use crate::drawing::svg::{Paper, Svg};
use crate::drawing::upright;

/// How deep the hatch of cut ground reaches, in millimetres.
const DEEP: f64 = 5.0;
/// The size of a slope's figure.
const SLOPE: f64 = 2.1;
/// The size of the letters of cut and fill.
const LETTER: f64 = 2.6;
/// Earth thinner than this on the paper has no letter, in millimetres.
const SLIVER: f64 = 0.4;
/// A steeper stretch is the face of a wall.
const FACE: f64 = 1.0;
/// From here on a slope is written as run to rise, as banks are (common practice): 1 in 5.
const BANK: f64 = 0.2;

/// The surface that will be: the proposed one where it is, the existing one elsewhere.
pub(super) fn last(section: &Section) -> Option<&SurfaceProfile> {
    section.proposed.as_ref().or(section.existing.as_ref())
}

/// The hatch of cut ground, under everything.
pub(super) fn ground(svg: &mut Svg, section: &Section, frame: &Frame) {
    for piece in last(section).iter().flat_map(|profile| &profile.pieces) {
        let mut ring = frame.path(piece);
        let under = |at: &Paper| at.plus(0.0, DEEP);
        let back: Vec<Paper> = ring.iter().rev().map(under).collect();
        ring.extend(back);
        svg.polygon("cut-ground", &[&ring]);
    }
}

/// Earth to be taken away and brought in, each with its letter and its depth where that is greatest.
pub(super) fn earth(svg: &mut Svg, above: &mut Svg, section: &Section, frame: &Frame, room: &mut Room) {
    for part in &section.moved {
        let mut ring = frame.path(&part.existing);
        let back = frame.path(&part.proposed);
        let extent = |path: &[Paper]| path.first().zip(path.last()).map_or(0.0, |(a, b)| b.x - a.x);
        let wide = extent(&ring);
        ring.extend(back.iter().rev());
        svg.polygon(if part.cut { "earth cut" } else { "earth fill" }, &[&ring]);
        if wide >= 1.5 {
            letter(above, part, frame, room);
        }
    }
}

/// The letter of a part with its greatest depth: in the earth itself, near where it is deepest and thick enough, else
/// over it.
fn letter(svg: &mut Svg, part: &Moved, frame: &Frame, room: &mut Room) {
    let (station, depth) = part.deepest;
    let both = |station: Length| Some((level(&part.existing, station)?, level(&part.proposed, station)?));
    let thick = |(now, then): (Length, Length)| (now - then).abs().metres() * frame.per_metre * frame.times;
    let (Some(levels), Some(first), Some(last)) =
        (both(station), part.existing.first(), part.existing.last())
    else {
        return;
    };
    if thick(levels) < SLIVER {
        return;
    }
    let text = format!("{} {}", if part.cut { "C" } else { "F" }, frame.unit.level(depth));
    let (wide, high) = (text_width(&text, LETTER) + 0.6, LETTER + 0.4);
    let deepest = frame.at((station, levels.0.max(levels.1)));
    let (left, right) = (frame.at(*first).x + wide / 2.0, frame.at(*last).x - wide / 2.0);
    let inside = (1..20).filter_map(|k| {
        let here = first.0 + (last.0 - first.0) * (f64::from(k) / 20.0);
        let levels = both(here)?;
        let at = frame.at((here, (levels.0 + levels.1) * 0.5));
        let worse = (at.x - deepest.x).abs() * 0.1 + if thick(levels) < high { 2.0 } else { 0.0 };
        (at.x >= left && at.x <= right).then(|| Place::level(at, worse))
    });
    let over_it = if left <= right { deepest.x.clamp(left, right) } else { deepest.x };
    let over = [4.0, 7.0, 10.0].map(|up| Place::level(Paper::new(over_it, deepest.y - up), 4.0));
    if let Some(place) = room.best(inside.chain(over), wide, high) {
        svg.text("label earth-letter", place.at, 0.0, &text);
    }
}

/// The lines of both surfaces.
pub(super) fn lines(svg: &mut Svg, section: &Section, frame: &Frame, room: &mut Room) {
    for (profile, class) in [(&section.existing, "surface"), (&section.proposed, "surface new")] {
        for piece in profile.iter().flat_map(|profile| &profile.pieces) {
            let path = frame.path(piece);
            svg.polyline(class, &path);
            room.draw_line(&path);
        }
    }
}

/// The slope of each stretch between breaks, along it where there is room.
pub(super) fn slopes(svg: &mut Svg, section: &Section, frame: &Frame, room: &mut Room) {
    for leg in last(section).iter().flat_map(|profile| &profile.legs) {
        if leg.slope.fraction().abs() > FACE {
            continue;
        }
        let (a, b) = (frame.at(leg.from), frame.at(leg.to));
        let text = slope(leg);
        let (wide, high) = (text_width(&text, SLOPE) + 1.0, SLOPE + 0.4);
        if a.distance(b) < wide {
            continue;
        }
        let turn = upright(libm::atan2(b.y - a.y, b.x - a.x).to_degrees());
        let (sin, cos) = libm::sincos(turn.to_radians());
        let place = |(share, off): (f64, f64)| Place {
            at: a.towards(b, share).plus(sin * off, -cos * off),
            turn,
            worse: (share - 0.5).abs() + if off < 0.0 { 2.0 } else { 0.0 },
        };
        let tries = [(0.5, 2.0), (0.4, 2.0), (0.6, 2.0), (0.5, 4.2), (0.3, 2.0), (0.7, 2.0), (0.5, -7.2)];
        if let Some(place) = room.best(tries.map(place), wide, high) {
            svg.text("label slope", place.at, place.turn, &text);
        }
    }
}

/// `2.1 %`, for a bank `2.5:1`, run to rise.
fn slope(leg: &Leg) -> String {
    let steep = leg.slope.fraction().abs();
    if steep < 0.000_5 {
        "level".to_owned()
    } else if steep < BANK {
        format!("{} %", decimal(steep * 100.0, 1))
    } else {
        format!("{}:1", decimal(1.0 / steep, 1))
    }
}

/// The level of a profile's piece at a station within it.
pub(super) fn level(piece: &[(Length, Length)], station: Length) -> Option<Length> {
    piece.windows(2).find_map(|pair| {
        let &[(from, low), (to, high)] = pair else { return None };
        let run = (to - from).metres();
        if station < from || station > to {
            return None;
        }
        let share = if run > 0.0 { (station - from).metres() / run } else { 0.0 };
        Some(low + (high - low) * share)
    })
}

/// The level of a surface at a station, or at its nearest place within a foot: a wall stands at the rim of the ground.
pub(super) fn level_near(profile: &SurfaceProfile, station: Length) -> Option<Length> {
    let exact = profile.pieces.iter().find_map(|piece| level(piece, station));
    let ends = profile.pieces.iter().flat_map(|piece| piece.first().into_iter().chain(piece.last()));
    let near = ends.map(|(at, level)| ((*at - station).abs(), *level)).min_by_key(|(off, _)| *off);
    exact.or_else(|| near.filter(|(off, _)| *off <= Length::from_feet(1.0)).map(|(_, level)| level))
}

/// Keeps the ground itself free of names: a band under each surface.
pub(super) fn claim(section: &Section, frame: &Frame, room: &mut Room) {
    for piece in last(section).iter().flat_map(|profile| &profile.pieces) {
        for pair in frame.path(piece).windows(2) {
            let &[a, b] = pair else { continue };
            room.draw_line(&[a.plus(0.0, 2.5), b.plus(0.0, 2.5)]);
        }
    }
    room.take(Block::around(frame.foot, 1.0, 1.0));
}
