//! Where water runs from a thing, and where that ends.
//!
//! Water is followed down the steepest way from some places of the thing. On its way it may come to one of the features
//! asked for, leave the lot over one of its lines, stand against a building or in a hollow, or come to where the levels of
//! the plan end.

use geo::Coord;
use groundrule_survey::{Point, Position, Shape, Surface};
use groundrule_terrain::{End, Hollow, Place, Tin};
use groundrule_units::{Dimension, Length, Quantity};

use super::model::{Ground, to_coord, to_place};
use super::no_ground;
use crate::shape::piece::{Piece, Pieces};
use crate::shape::rings::{Lies, edges};
use crate::shape::segments::{distance, meeting, norm, place, position, right, unit};
use crate::terms::combine;
use crate::{FeatureId, Measured, Need, Site};

/// Water that comes so near to a spot or a line without width, in metres, comes to it: a foot.
const AT_SPOT: f64 = 0.3048;
/// What lies so near to a lot line, in metres, is on it.
const ON_LINE: f64 = 0.05;
/// Water from a roof starts so far out from the wall, in metres.
const FROM_WALL: f64 = 0.1;
/// At most so many places of one thing are followed.
const MOST: usize = 200;

/// Where water ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// At one of the features asked for.
    At(FeatureId),
    /// Against a building.
    Building(FeatureId),
    /// In a hollow, or on level ground.
    Stands,
    /// Over a line of its lot.
    Over(FeatureId),
    /// Where the levels of the plan end.
    BeyondLevels,
    /// Nowhere: it begins where the plan has no levels.
    Unknown,
}

/// The way of water.
#[derive(Clone, Debug)]
pub struct Course {
    /// Where it ends.
    pub outcome: Outcome,
    /// How far it runs; how that errs is not followed.
    pub length: Measured,
    /// How far it falls.
    pub fall: Measured,
    /// Its places.
    pub path: Vec<Position>,
    /// What it runs over on its way, in order.
    pub over: Vec<FeatureId>,
}

/// What water is held against as it runs.
pub(crate) struct Watched<'a> {
    ends: Vec<(FeatureId, Pieces<'a>)>,
    lines: Vec<(FeatureId, &'a [Point])>,
}

impl Site {
    /// The ways of water from places of a feature, to the first of `ends` it comes to. Hollows run over when asked.
    pub fn courses(
        &self,
        which: Surface,
        from: FeatureId,
        ends: &[FeatureId],
        past: &[FeatureId],
        overflow: bool,
    ) -> Result<Vec<Course>, Need> {
        let ground = self.ground(which).ok_or_else(|| no_ground(which))?;
        let starts = self.starts(ground, from)?;
        let watched = self.watched(from, ends);
        let past: Vec<(FeatureId, Pieces<'_>)> =
            past.iter().filter_map(|id| Some((*id, self.drawn(*id).ok()?))).collect();
        let hollows =
            if overflow { ground.tin.hollows(&ground.drained(&self.middles(ends))) } else { Vec::new() };
        let course = |start: &Coord<f64>| {
            let (outcome, path) = watched.follow(ground, &ground.tin, *start, &hollows);
            let over = past.iter().filter(|(_, pieces)| runs_over(&path, pieces)).map(|(id, _)| *id);
            Course {
                outcome,
                length: Measured::exact(Length::from_metres(length(&path))),
                fall: ground.fall_between(*start, path.last().copied().unwrap_or(*start)),
                over: over.collect(),
                path: path.into_iter().map(position).collect(),
            }
        };
        Ok(starts.iter().map(course).collect())
    }

    pub(crate) fn watched(&self, from: FeatureId, ends: &[FeatureId]) -> Watched<'_> {
        let lot = self.feature(from).and_then(|feature| feature.lot);
        let lines = lot.into_iter().flat_map(|lot| self.lines_of(lot));
        let inside = |line: &FeatureId| self.feature(*line).is_some_and(crate::lot::is_inside);
        Watched {
            ends: ends
                .iter()
                .filter(|id| **id != from)
                .filter_map(|id| Some((*id, self.drawn(*id).ok()?)))
                .collect(),
            lines: lines
                .filter(|line| !inside(line))
                .filter_map(|line| Some((line, self.path(line)?)))
                .collect(),
        }
    }

    /// Where water starts on a feature: at a spot; in the middle of each segment of a line; all over an area; beside the
    /// walls of a building.
    pub(crate) fn starts(&self, ground: &Ground, from: FeatureId) -> Result<Vec<Coord<f64>>, Need> {
        let shapes = self.drawn(from)?;
        let feature = self.feature(from).ok_or_else(Need::default)?;
        let starts = match &feature.shape {
            Shape::Spot(point) | Shape::Disc { centre: point, .. } => vec![place(point)],
            Shape::Line { path, .. } => {
                path.iter().zip(path.iter().skip(1)).map(|(a, b)| (place(a) + place(b)) / 2.0).collect()
            }
            Shape::Outline { ring, .. } if super::footprint::is_closed(feature, self.kinds()) => beside(ring),
            Shape::Outline { ring, .. } => ground.all_over(ring, &shapes),
            Shape::Absent => Vec::new(),
        };
        Ok(starts)
    }
}

/// A little out from the middle of each wall.
fn beside(ring: &[Point]) -> Vec<Coord<f64>> {
    let out = |(a, b): (&Point, &Point)| {
        let way = right(unit(place(b) - place(a))?);
        Some((place(a) + place(b)) / 2.0 + way * FROM_WALL)
    };
    edges(ring).filter_map(out).collect()
}

impl Ground {
    /// The middle of the ring, a place near each of its corners, and the middle of each facet in it.
    fn all_over(&self, ring: &[Point], pieces: &[Piece<'_>]) -> Vec<Coord<f64>> {
        let middle = crate::shape::rings::middle(ring);
        let corners = ring.iter().map(|point| middle + (place(point) - middle) * 0.95);
        let places: Vec<Place> = ring.iter().map(|point| to_place(place(point))).collect();
        let facets = self.tin.within(&places).into_iter().map(|(facet, _)| {
            let [a, b, c] = self.places_of(facet);
            (a + b + c) / 3.0
        });
        let all = std::iter::once(middle).chain(corners).chain(facets);
        all.filter(|at| pieces.iter().any(|piece| piece.lies(*at) == Lies::Inside)).take(MOST).collect()
    }

    /// How far the ground falls from one place to another.
    fn fall_between(&self, from: Coord<f64>, to: Coord<f64>) -> Measured {
        let height = |at: Coord<f64>| self.height_in(self.tin.facet_at(to_place(at))?, at);
        let Some((high, low)) = height(from).zip(height(to)) else {
            return Measured::exact(Length::ZERO);
        };
        let value = Quantity::new(Dimension::Length, high.value - low.value);
        Measured::new(value, combine(&high.terms, 1.0, &low.terms, -1.0))
    }
}

impl Watched<'_> {
    /// No longer ends water at the lines of the lot.
    pub(crate) fn leave_lots(&mut self) {
        self.lines.clear();
    }

    /// The way of water on a surface with the levels of `tin`, cut where it ends.
    pub(crate) fn follow(
        &self,
        ground: &Ground,
        tin: &Tin,
        start: Coord<f64>,
        hollows: &[Hollow],
    ) -> (Outcome, Vec<Coord<f64>>) {
        // Over level ground, which a surface made of contours has much of, it goes the shortest way out.
        let courses = tin.trace_over(to_place(start), &[], hollows).unwrap_or_default();
        let Some(last) = courses.last() else { return (Outcome::Unknown, vec![start]) };
        let end = last.end;
        let path = courses.iter().flat_map(|course| &course.places).map(|(at, _)| to_coord(*at));
        let mut run: Vec<Coord<f64>> = Vec::new();
        for at in path {
            if let Some(&before) = run.last()
                && let Some((outcome, stop)) = self.met(before, at)
            {
                run.push(stop);
                return (outcome, run);
            }
            run.push(at);
        }
        let outcome = match (end, run.last()) {
            (_, Some(at)) if let Some(end) = self.near(*at) => Outcome::At(end),
            (End::Hole(k), _) => ground.buildings.get(k).map_or(Outcome::Stands, |it| Outcome::Building(*it)),
            // Levels taken along a lot line end there, and water leaves over it.
            (End::Outer, Some(at)) if let Some(line) = self.line_at(*at) => Outcome::Over(line),
            (End::Outer, _) => Outcome::BeyondLevels,
            (End::Pit(_) | End::Flat(_) | End::Sink(_), _) => Outcome::Stands,
        };
        (outcome, run)
    }

    /// What a step of water comes to first, and where.
    fn met(&self, from: Coord<f64>, to: Coord<f64>) -> Option<(Outcome, Coord<f64>)> {
        let mut first: Option<(f64, Outcome)> = None;
        let mut keep = |share: f64, outcome: Outcome| {
            if first.is_none_or(|(held, _)| share < held) {
                first = Some((share, outcome));
            }
        };
        for (id, pieces) in &self.ends {
            if let Some(share) = pieces.iter().filter_map(|piece| comes_to(piece, from, to)).reduce(f64::min)
            {
                keep(share, Outcome::At(*id));
            }
        }
        for (id, path) in &self.lines {
            for (a, b) in path.iter().zip(path.iter().skip(1)) {
                // The lot is on the left of its lines.
                let leaves = crate::shape::segments::side(place(a), place(b), to) < 0.0;
                let meets = meeting(from, to, place(a), place(b));
                if let Some((share, on)) = meets
                    && leaves
                    && (0.0..=1.0).contains(&share)
                    && (0.0..=1.0).contains(&on)
                {
                    keep(share, Outcome::Over(*id));
                }
            }
        }
        first.map(|(share, outcome)| (outcome, crate::shape::segments::at(from, to, share)))
    }

    /// The line of the lot that a place is on.
    fn line_at(&self, at: Coord<f64>) -> Option<FeatureId> {
        let on = |path: &[Point]| {
            path.iter().zip(path.iter().skip(1)).any(|(a, b)| distance(at, place(a), place(b)) <= ON_LINE)
        };
        self.lines.iter().find(|(_, path)| on(path)).map(|(line, _)| *line)
    }

    /// The first of the ends that a place is at.
    fn near(&self, at: Coord<f64>) -> Option<FeatureId> {
        let here = |pieces: &Pieces<'_>| pieces.iter().any(|piece| comes_to(piece, at, at).is_some());
        self.ends.iter().find(|(_, pieces)| here(pieces)).map(|(id, _)| *id)
    }
}

/// How far along a step it comes to a shape: into an area, or within a foot of a spot or a line.
fn comes_to(piece: &Piece<'_>, from: Coord<f64>, to: Coord<f64>) -> Option<f64> {
    match piece {
        Piece::Area { .. } => {
            if piece.lies(from) == Lies::Inside {
                return Some(0.0);
            }
            let cuts = piece.edges().filter_map(|(a, b)| {
                let (share, on) = meeting(from, to, place(a), place(b))?;
                ((0.0..=1.0).contains(&share) && (0.0..=1.0).contains(&on)).then_some(share)
            });
            cuts.reduce(f64::min)
        }
        Piece::Path(path) => {
            let apart = path.iter().zip(path.iter().skip(1)).map(|(a, b)| distance(to, place(a), place(b)));
            let crosses = path.iter().zip(path.iter().skip(1)).filter_map(|(a, b)| {
                let (share, on) = meeting(from, to, place(a), place(b))?;
                ((0.0..=1.0).contains(&share) && (0.0..=1.0).contains(&on)).then_some(share)
            });
            let near = apart.reduce(f64::min).filter(|apart| *apart <= AT_SPOT).map(|_| 1.0);
            crosses.reduce(f64::min).or(near)
        }
        Piece::Disc { centre, radius } => {
            let reach = radius.max(AT_SPOT);
            let centre = place(centre);
            (distance(centre, from, to) <= reach).then(|| {
                let station = crate::shape::segments::station(centre, from, to);
                station.map_or(0.0, |share| share.clamp(0.0, 1.0))
            })
        }
    }
}

fn runs_over(path: &[Coord<f64>], pieces: &Pieces<'_>) -> bool {
    path.iter()
        .zip(path.iter().skip(1))
        .any(|(from, to)| pieces.iter().any(|piece| comes_to(piece, *from, *to).is_some()))
}

fn length(path: &[Coord<f64>]) -> f64 {
    path.iter().zip(path.iter().skip(1)).map(|(a, b)| norm(*b - *a)).sum()
}
