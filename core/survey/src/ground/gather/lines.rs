//! Levels along a line or around an outline: contours, edges, the two faces of a wall.

use std::collections::BTreeMap;

use groundrule_plan::{Attribute, Feature, Name};
use groundrule_units::Length;

use super::{Gather, What, lacking, middle, what};
use crate::SourceId;
use crate::field::length;
use crate::ground::run::Run;
use crate::ground::stated::{self, BOTTOM, LEVEL, LEVELS, RIM, STATIONS, Stated, TOP, UPPER};
use crate::ground::{GroundLevel, GroundLine, GroundLineKind, Surface};

/// The least a face of a wall or curb stands off its line, so that its two faces are not one place, in metres.
const LEAST_HALF: f64 = 0.05;
/// A station may lie this far beyond the end of its line, in metres: lines are measured and drawn by different hands.
const BEYOND: f64 = 0.05;

/// A feature with vertices, and how far its faces stand off its line.
pub(super) struct Along<'g> {
    pub(super) i: u32,
    pub(super) feature: &'g Feature,
    pub(super) run: &'g Run,
    pub(super) half: f64,
    /// Its `levels` may be written as inverts.
    pub(super) carries_water: bool,
}

/// A level so far along a line.
#[derive(Clone, Copy)]
struct Knot {
    along: f64,
    level: u32,
}

impl Along<'_> {
    /// Takes in all levels that are stated along the line.
    pub(super) fn take(&self, work: &mut Gather<'_, '_>, all: &[Stated<'_>]) {
        let of = |attribute: &'static str| {
            all.iter().filter(move |it| it.attribute == attribute && it.is_ground(self.carries_water))
        };
        for stated in of(LEVEL) {
            self.contour(work, stated);
        }
        if let Some((stated, middle)) = of(RIM).next().zip(middle(self.run.points())) {
            let what = what(self.i, self.feature, stated, self.feature.id.value.clone());
            work.level(what, middle, false);
        }
        self.stations_beyond(work);
        let high = self.high_side();
        let low = if self.feature.stated(BOTTOM).is_some() { BOTTOM } else { LEVELS };
        let is_curb = self.feature.stated(TOP).is_some() && low == LEVELS;
        let has_faces = high.is_some() && !self.run.is_closed();
        // The gutter at a curb is its low face; other levels lie along the line itself.
        if !(is_curb && has_faces) {
            self.line(work, &of(LEVELS).collect::<Vec<_>>(), GroundLineKind::Break, 0.0);
        }
        let Some(side) = high.filter(|_| has_faces) else { return };
        let off = side * self.half.max(LEAST_HALF);
        let upper = if self.feature.stated(UPPER).is_some() { UPPER } else { TOP };
        let (upper, lower): (Vec<_>, Vec<_>) = (of(upper).collect(), of(low).collect());
        let lower = if low == LEVELS && !is_curb { Vec::new() } else { lower };
        self.line(work, &upper, GroundLineKind::WallTop, off);
        self.line(work, &lower, GroundLineKind::WallFoot, -off);
    }

    /// One to the left, minus one to the right of the line.
    fn high_side(&self) -> Option<f64> {
        match &self.feature.stated("high_side")?.value {
            Attribute::Text(side) if side == "left" => Some(1.0),
            Attribute::Text(side) if side == "right" => Some(-1.0),
            _ => None,
        }
    }

    /// One level at every point of the line, from one reading.
    fn contour(&self, work: &mut Gather<'_, '_>, stated: &Stated<'_>) {
        let mut points = self.run.points().iter();
        let Some(start) = points.next() else { return };
        let what = what(self.i, self.feature, stated, self.feature.id.value.clone());
        let first = work.level(what, start.clone(), false);
        let Some(known) = level_at(work, first) else { return };
        let mut levels = vec![first];
        for point in points {
            levels.push(work.push(GroundLevel { at: point.clone(), derived: true, ..known.clone() }));
        }
        let surface = self.surface(stated);
        self.add(work, levels, self.run.is_closed(), GroundLineKind::Contour, surface);
    }

    fn surface(&self, stated: &Stated<'_>) -> Surface {
        stated::surface(stated.term(), super::is_proposed(self.feature))
    }

    /// Levels at vertices or stations, and those between them, for each surface a line.
    fn line(&self, work: &mut Gather<'_, '_>, stated: &[&Stated<'_>], kind: GroundLineKind, left: f64) {
        let mut knots: BTreeMap<Surface, Vec<Knot>> = BTreeMap::new();
        for stated in stated {
            let Some(along) = self.along(stated.at) else { continue };
            let Some(point) = self.run.point(along, left) else { continue };
            let what = What {
                name: self.name(stated.at),
                ..what(self.i, self.feature, stated, Name(String::new()))
            };
            let surface = what.surface;
            let level = work.level(what, point, false);
            knots.entry(surface).or_default().push(Knot { along, level });
        }
        for (surface, mut knots) in knots {
            knots.sort_by(|a, b| a.along.total_cmp(&b.along));
            self.between(work, &knots, kind, surface, left);
        }
    }

    fn between(
        &self,
        work: &mut Gather<'_, '_>,
        knots: &[Knot],
        kind: GroundLineKind,
        surface: Surface,
        left: f64,
    ) {
        let Some((first, last)) = knots.first().zip(knots.last()) else { return };
        let closed =
            self.run.is_closed() && knots.len() > 2 && first.along == 0.0 && self.run.ends_at(last.along);
        let mut levels = vec![first.level];
        for (a, b) in knots.iter().zip(knots.iter().skip(1)) {
            self.derive(work, *a, *b, left, &mut levels);
            levels.push(b.level);
        }
        if closed {
            let back = Knot { along: self.run.length(), level: first.level };
            self.derive(work, *last, back, left, &mut levels);
        }
        self.add(work, levels, closed, kind, surface);
    }

    /// The levels of the points between two levels, by their distance from both.
    fn derive(&self, work: &mut Gather<'_, '_>, a: Knot, b: Knot, left: f64, levels: &mut Vec<u32>) {
        let Some((from, to)) = level_at(work, a.level).zip(level_at(work, b.level)) else { return };
        for along in self.run.between(a.along, b.along) {
            let Some(at) = self.run.point(along, left) else { continue };
            let share = (along - a.along) / (b.along - a.along);
            let level = GroundLevel {
                at,
                height: from.height + (to.height - from.height) * share,
                error: weighted(&from.error, 1.0 - share, &to.error, share),
                surface: from.surface,
                term: None,
                name: self.feature.id.value.clone(),
                feature: Some(self.i),
                derived: true,
                span: from.span,
            };
            levels.push(work.push(level));
        }
    }

    fn add(
        &self,
        work: &mut Gather<'_, '_>,
        levels: Vec<u32>,
        closed: bool,
        kind: GroundLineKind,
        surface: Surface,
    ) {
        work.line(GroundLine { levels, closed, kind, surface, feature: self.i });
    }

    fn stations(&self) -> Option<&[groundrule_units::Written<Length>]> {
        match &self.feature.stated(STATIONS)?.value {
            Attribute::Lengths(stations) => Some(stations),
            _ => None,
        }
    }

    /// How far along the line a level of a list stands; none beyond its ends.
    fn along(&self, at: usize) -> Option<f64> {
        match self.stations() {
            Some(stations) => {
                let station = stations.get(at)?.value.metres();
                let on = (-BEYOND..=self.run.length() + BEYOND).contains(&station);
                on.then(|| station.clamp(0.0, self.run.length()))
            }
            None => self.run.vertex(at),
        }
    }

    fn name(&self, at: usize) -> Name {
        let id = &self.feature.id.value;
        let corner = if self.stations().is_some() { None } else { stated::corner(self.feature, at) };
        corner.map_or_else(|| id.clone(), |corner| Name(format!("{}.{}", id.0, corner.0)))
    }

    fn stations_beyond(&self, work: &mut Gather<'_, '_>) {
        let (Some(stations), Some(said)) = (self.stations(), self.feature.stated(STATIONS)) else { return };
        let end = self.run.length();
        let off = stations.iter().enumerate().find(|(at, _)| self.along(*at).is_none());
        if let Some((_, station)) = off {
            let id = &self.feature.id.value.0;
            let message = format!(
                "`{id}` has a station at {}, and its line runs from 0 to {}.",
                length(work.plan, station.value.metres()),
                length(work.plan, end)
            );
            let help = "Correct the station or the line; the level stated there is left out until then.";
            let remark = lacking(self.feature, "data::station-beyond-line", message, said.span, help);
            work.remark(remark);
        }
    }
}

fn level_at(work: &Gather<'_, '_>, level: u32) -> Option<GroundLevel> {
    work.ground.levels.get(level as usize).cloned()
}

/// The error of a weighted sum of two heights; what they have in common adds up.
fn weighted(
    a: &[(SourceId, Length)],
    of_a: f64,
    b: &[(SourceId, Length)],
    of_b: f64,
) -> Vec<(SourceId, Length)> {
    let mut sum: BTreeMap<SourceId, Length> = BTreeMap::new();
    let a = a.iter().map(|(source, by)| (*source, *by * of_a));
    for (source, by) in a.chain(b.iter().map(|(source, by)| (*source, *by * of_b))) {
        let held = sum.entry(source).or_insert(Length::ZERO);
        *held = *held + by;
    }
    sum.into_iter().collect()
}
