//! What a line across the site crosses, in order: both surfaces, and everything that stands on it.

use geo::Coord;
use groundrule_survey::{Point, Position, Shape, Surface};
use groundrule_units::{Length, Ratio};

use super::moved::{Moved, Station, moved};
use super::no_ground;
use crate::shape::inside::stretches;
use crate::shape::piece::{Piece, pieces};
use crate::shape::segments::{distance, meeting, norm, place, station};
use crate::{Fact, Feature, FeatureId, Need, Site};

/// A break of the slope that changes a level by less than this, in metres, is none: a tenth of a foot.
const BREAK: f64 = 0.030_48;

/// A section along a line.
#[derive(Clone, Debug)]
pub struct Section {
    /// How long the line is.
    pub length: Length,
    /// The stations of its bends, the ends not among them.
    pub bends: Vec<Length>,
    /// The ground as it lies; none where the plan has no such surface or the line does not meet it.
    pub existing: Option<SurfaceProfile>,
    /// The ground as it shall be, where it differs.
    pub proposed: Option<SurfaceProfile>,
    /// Earth between the two.
    pub moved: Vec<Moved>,
    /// What it crosses, in order of station.
    pub crossings: Vec<Crossing>,
}

/// A surface along a line.
#[derive(Clone, Debug, Default)]
pub struct SurfaceProfile {
    /// Pieces with ground, each as stations and levels in order.
    pub pieces: Vec<Vec<(Length, Length)>>,
    /// Its stretches of one slope between breaks.
    pub legs: Vec<Leg>,
}

/// A stretch of one slope.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Leg {
    /// Station and level where it begins.
    pub from: (Length, Length),
    /// Station and level where it ends.
    pub to: (Length, Length),
    /// Its rise by its run along the line; negative where it falls.
    pub slope: Ratio,
}

/// Something that the line crosses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// What.
    pub feature: FeatureId,
    /// Where the line enters it.
    pub from: Length,
    /// Where the line leaves it; the same station for what has no width.
    pub to: Length,
    /// The level of its top there, where `top_levels` states one for each of its vertices.
    pub top: Option<Length>,
}

impl Site {
    /// The section along a path; the need says which levels to take where there is no ground along it.
    pub fn section(&self, path: &[Position]) -> Result<Section, Need> {
        let profile = |which| {
            let pieces = self.ground(which)?.profile(path);
            (!pieces.is_empty()).then(|| SurfaceProfile { legs: legs(&pieces), pieces })
        };
        let existing = profile(Surface::Existing);
        let proposed = profile(Surface::Proposed).filter(|_| self.is_regraded() || existing.is_none());
        if existing.is_none() && proposed.is_none() {
            if self.ground(Surface::Existing).is_none() && self.ground(Surface::Proposed).is_none() {
                return Err(no_ground(Surface::Existing));
            }
            return Err(Need {
                what: "levels of the ground along this line".to_owned(),
                how: "take levels on both sides of it and beyond both of its ends".to_owned(),
            });
        }
        let of = |profile: &Option<SurfaceProfile>| {
            profile.as_ref().map(|it| it.pieces.clone()).unwrap_or_default()
        };
        let moved = moved(&of(&existing), &of(&proposed));
        let stations = stations(path);
        let bends = stations.iter().skip(1).take(stations.len().saturating_sub(2)).copied().collect();
        let length = stations.last().copied().unwrap_or_default();
        Ok(Section { length, bends, existing, proposed, moved, crossings: self.crossings(path) })
    }

    /// What a path crosses, in order of station and then of feature.
    fn crossings(&self, path: &[Position]) -> Vec<Crossing> {
        let path: Vec<Point> = path.iter().map(|at| Point { at: *at, ..Point::default() }).collect();
        let mut found: Vec<Crossing> = Vec::new();
        for (id, feature) in self.features() {
            let mut start = 0.0;
            let mut own: Vec<(f64, f64)> = Vec::new();
            for (a, b) in path.iter().zip(path.iter().skip(1)) {
                own.extend(crossed(feature, a, b).into_iter().map(|(from, to)| (start + from, start + to)));
                start += norm(place(b) - place(a));
            }
            own.sort_by(|a, b| a.0.total_cmp(&b.0));
            let mut joined: Vec<(f64, f64)> = Vec::new();
            for (from, to) in own {
                match joined.last_mut() {
                    Some(last) if from <= last.1 + 1e-6 => last.1 = last.1.max(to),
                    _ => joined.push((from, to)),
                }
            }
            let length = Length::from_metres;
            found.extend(joined.into_iter().map(|(from, to)| Crossing {
                feature: id,
                from: length(from),
                to: length(to),
                top: along(&path, f64::midpoint(from, to)).and_then(|at| top(feature, at)),
            }));
        }
        found.sort_by_key(|crossing| (crossing.from, crossing.feature));
        found
    }
}

/// The stretches of a segment, in metres from its start, over a feature.
fn crossed(feature: &Feature, a: &Point, b: &Point) -> Vec<(f64, f64)> {
    let (start, end) = (place(a), place(b));
    let length = norm(end - start);
    let over = |areas: &[Piece<'_>]| -> Vec<(f64, f64)> {
        let along = |at: Coord<f64>| station(at, start, end).unwrap_or(0.0) * length;
        stretches(a, b, areas).iter().map(|it| (along(it.from), along(it.to))).collect()
    };
    match &feature.shape {
        Shape::Outline { .. } | Shape::Disc { .. } => over(&pieces(&feature.shape)),
        Shape::Line { width, .. } if *width > Length::ZERO => over(&pieces(&feature.shape)),
        Shape::Line { path, .. } => path
            .iter()
            .zip(path.iter().skip(1))
            .filter_map(|(p, q)| meeting(start, end, place(p), place(q)))
            .filter(|(t, s)| (0.0..=1.0).contains(t) && (0.0..=1.0).contains(s))
            .map(|(t, _)| (t * length, t * length))
            .collect(),
        // A plant is met where its crown is.
        Shape::Spot(centre) => match crown(feature) {
            Some(radius) if distance(place(centre), start, end) < radius => {
                over(&[Piece::Disc { centre, radius }])
            }
            _ => Vec::new(),
        },
        Shape::Absent => Vec::new(),
    }
}

/// The level of the top of a line at the place of it nearest to another, straight between those of its vertices.
fn top(feature: &Feature, near: Coord<f64>) -> Option<Length> {
    let Shape::Line { path, .. } = &feature.shape else { return None };
    let Some(Fact::Amounts(levels)) = feature.facts.get("top_levels") else { return None };
    if levels.len() != path.len() || feature.facts.contains_key("stations") {
        return None;
    }
    let legs = path.iter().zip(path.iter().skip(1)).zip(levels.iter().zip(levels.iter().skip(1)));
    let apart = |(a, b): (&Point, &Point)| distance(near, place(a), place(b));
    let ((a, b), (low, high)) = legs.min_by(|x, y| apart(x.0).total_cmp(&apart(y.0)))?;
    let share = station(near, place(a), place(b))?.clamp(0.0, 1.0);
    let (low, high) = (low.value().length()?, high.value().length()?);
    Some(low + (high - low) * share)
}

/// The place at a station of a path, in metres.
fn along(path: &[Point], mut at: f64) -> Option<Coord<f64>> {
    for (a, b) in path.iter().zip(path.iter().skip(1)) {
        let length = norm(place(b) - place(a));
        if length > 0.0 && at <= length {
            return Some(crate::shape::segments::at(place(a), place(b), at / length));
        }
        at -= length;
    }
    path.last().map(place)
}

fn crown(feature: &Feature) -> Option<f64> {
    let spread = feature.facts.get("spread").or_else(|| feature.facts.get("mature_spread"))?;
    match spread {
        Fact::Amount(amount) => amount.value().length().map(|spread| spread.metres() / 2.0),
        _ => None,
    }
}

/// The station of each place of a path.
fn stations(path: &[Position]) -> Vec<Length> {
    let mut at = 0.0;
    let mut before: Option<Coord<f64>> = None;
    path.iter()
        .map(|here| {
            let here = place(&Point { at: *here, ..Point::default() });
            at += before.map_or(0.0, |before| norm(here - before));
            before = Some(here);
            Length::from_metres(at)
        })
        .collect()
}

/// The stretches of one slope: a profile without the places that change no level by much (Douglas and Peucker's way).
fn legs(pieces: &[Vec<Station>]) -> Vec<Leg> {
    let mut all = Vec::new();
    for piece in pieces {
        let mut kept = vec![true; piece.len()];
        // An own stack: a profile may have a hundred thousand stations in a row.
        let mut work = vec![(0, piece.len().saturating_sub(1))];
        while let Some((first, last)) = work.pop() {
            let (Some(a), Some(b)) = (piece.get(first), piece.get(last)) else { continue };
            let off = |i: usize| piece.get(i).map_or(0.0, |at| over_chord(*at, *a, *b));
            let farthest = (first + 1..last).max_by(|i, j| off(*i).total_cmp(&off(*j)));
            match farthest {
                Some(i) if off(i) > BREAK => work.extend([(first, i), (i, last)]),
                _ => kept.iter_mut().take(last).skip(first + 1).for_each(|kept| *kept = false),
            }
        }
        let ends: Vec<Station> =
            piece.iter().zip(&kept).filter(|(_, kept)| **kept).map(|(at, _)| *at).collect();
        for pair in ends.windows(2) {
            let &[from, to] = pair else { continue };
            let run = (to.0 - from.0).metres();
            if run > 0.0 {
                all.push(Leg { from, to, slope: Ratio::from_fraction((to.1 - from.1).metres() / run) });
            }
        }
    }
    all
}

/// How far a station is above or below the chord between two others, in metres.
fn over_chord(at: Station, from: Station, to: Station) -> f64 {
    let run = (to.0 - from.0).metres();
    let share = if run > 0.0 { (at.0 - from.0).metres() / run } else { 0.0 };
    (at.1.metres() - (from.1.metres() + (to.1 - from.1).metres() * share)).abs()
}
