//! Slope along a line, and square to it.
//!
//! Along a line a slope is positive where the ground falls the way the line is drawn; across it, where the ground falls
//! to its right. Stretches of one facet shorter than a foot count for the mean alone.

use geo::Coord;
use groundrule_survey::{Point, Surface};
use groundrule_terrain::Stretch;
use groundrule_units::{Dimension, Length, Quantity};

use super::axis;
use super::model::{Ground, Height, sorted, to_place};
use super::no_ground;
use super::over::few_levels;
use super::picked::{Candidate, Figure, pick};
use crate::shape::segments::{at, dot, norm, place, position, right, unit};
use crate::terms::{Gather, combine};
use crate::{FeatureId, Mark, Measured, Need, Site, Terms};

/// The shortest stretch, in metres, whose slope is one of its own: a foot.
const LEAST_STRETCH: f64 = 0.3048;

/// Which way a slope is taken.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Along,
    Across,
}

impl Site {
    /// The slope along a feature between two stations; a `to` of zero is its end.
    pub fn slope_along(
        &self,
        which: Surface,
        line: FeatureId,
        figure: Figure,
        (from, to): (Length, Length),
    ) -> Measured {
        let path = axis::between(&self.axis(line), from.metres(), to.metres());
        self.sloping(which, line, &path, |ground, path| match figure {
            Figure::Mean => fall_of_ends(ground, path),
            _ => pick(ground, candidates(ground, path, Way::Along), figure, Dimension::Ratio),
        })
    }

    /// The slope of the ground square to a feature.
    pub fn slope_across(&self, which: Surface, line: FeatureId, figure: Figure) -> Measured {
        let path = self.axis(line);
        self.sloping(which, line, &path, |ground, path| {
            pick(ground, candidates(ground, path, Way::Across), figure, Dimension::Ratio)
        })
    }

    /// The greatest change of slope along a feature, from such a length before a break to such a length after it.
    pub fn slope_break(&self, which: Surface, line: FeatureId, stretch: Length) -> Measured {
        let path = self.axis(line);
        self.sloping(which, line, &path, |ground, path| breaks(ground, path, stretch.metres()))
    }

    fn sloping(
        &self,
        which: Surface,
        line: FeatureId,
        path: &[Point],
        measure: impl Fn(&Ground, &[Point]) -> Option<Measured>,
    ) -> Measured {
        let lacking = |need: Need| Measured::lacking(Dimension::Ratio, vec![need]);
        let name = self.feature(line).map_or("it", |feature| feature.id.0.as_str());
        if path.len() < 2 {
            let how = "draw it as a line, or as an outline longer than wide".to_owned();
            return lacking(Need { what: format!("the way along {name}"), how });
        }
        let Some(ground) = self.ground(which) else { return lacking(no_ground(which)) };
        if !ground.reaches(path) {
            return lacking(few_levels(which, name));
        }
        measure(ground, path).unwrap_or_else(|| lacking(few_levels(which, name)))
    }
}

impl Ground {
    /// The stretches of a segment, each in one facet.
    pub(crate) fn stretches(&self, a: &Point, b: &Point) -> Vec<Stretch> {
        self.tin.along(to_place(place(a)), to_place(place(b)))
    }

    /// True when the surface is there along nine tenths of a path.
    fn reaches(&self, path: &[Point]) -> bool {
        let (mut whole, mut there) = (0.0, 0.0);
        for (a, b) in path.iter().zip(path.iter().skip(1)) {
            let length = norm(place(b) - place(a));
            whole += length;
            there +=
                length * self.stretches(a, b).iter().map(|stretch| stretch.to - stretch.from).sum::<f64>();
        }
        whole > 0.0 && there >= 0.9 * whole
    }
}

fn candidates(ground: &Ground, path: &[Point], way: Way) -> Vec<Candidate> {
    let mut all = Vec::new();
    for (a, b) in path.iter().zip(path.iter().skip(1)) {
        let span = place(b) - place(a);
        let Some(ahead) = unit(span) else { continue };
        let aside = right(ahead);
        let (taken, turned) = if way == Way::Along { (ahead, aside) } else { (aside, ahead * -1.0) };
        for stretch in ground.stretches(a, b) {
            let length = norm(span) * (stretch.to - stretch.from);
            let slope = ground.gradient(stretch.facet);
            let mut gather = Gather::default();
            let factors = ground.tilts(stretch.facet).map(|tilt| -dot(tilt, taken));
            ground.gather(stretch.facet, factors, &mut gather);
            // The segment turns with its ends, and another part of the gradient comes in.
            let swing = aside * (-dot(slope, turned) / norm(span));
            gather.point(b, swing);
            gather.point(a, swing * -1.0);
            let ends = [stretch.from, stretch.to].map(|t| position(at(place(a), place(b), t)));
            all.push(Candidate {
                value: -dot(slope, taken),
                terms: gather.finish(),
                weight: length,
                facets: vec![stretch.facet],
                mark: Mark::Span(ends[0], ends[1]),
            });
        }
    }
    let longest = all.iter().map(|candidate| candidate.weight).fold(0.0, f64::max);
    all.retain(|candidate| candidate.weight >= LEAST_STRETCH.min(longest));
    all
}

/// The fall from one end of a path to the other, by its length.
fn fall_of_ends(ground: &Ground, path: &[Point]) -> Option<Measured> {
    let (first, last) = (path.first()?, path.last()?);
    let (high, low) = (end(ground, first, path.get(1)?)?, end(ground, last, path.get(path.len() - 2)?)?);
    let run = run(path);
    let fall = Measured::new(
        Quantity::new(Dimension::Length, high.value - low.value),
        combine(&high.terms, 1.0, &low.terms, -1.0),
    );
    let mut slope = fall.ratio(&run).ok()?;
    slope.needs = sorted(high.needs.into_iter().chain(low.needs).collect());
    Some(slope.marked(vec![Mark::Span(first.at, last.at)]))
}

/// The level at an end of a path; just off the surface, at the nearest place of the path on it.
fn end(ground: &Ground, point: &Point, next: &Point) -> Option<Height> {
    ground.height(point).or_else(|| {
        let stretches = ground.stretches(point, next);
        let first = stretches.first()?;
        ground.height(&axis::on(point, next, first.from + 1e-9))
    })
}

fn run(path: &[Point]) -> Measured {
    let (mut length, mut gather) = (0.0, Gather::default());
    for (a, b) in path.iter().zip(path.iter().skip(1)) {
        let span = place(b) - place(a);
        length += norm(span);
        let ahead = unit(span).unwrap_or(Coord { x: 0.0, y: 0.0 });
        gather.point(b, ahead);
        gather.point(a, ahead * -1.0);
    }
    Measured::new(Quantity::new(Dimension::Length, length), gather.finish())
}

/// A stretch of a profile with one slope.
struct Leg {
    slope: f64,
    terms: Terms,
    length: f64,
    from: f64,
}

/// The greatest change of slope at a break: between the mean slopes over such a length before and after it, or over what
/// there is of the path where that is less.
fn breaks(ground: &Ground, path: &[Point], window: f64) -> Option<Measured> {
    let mut legs: Vec<Leg> = Vec::new();
    let mut station = 0.0;
    let mut needs = Vec::new();
    for candidate in candidates(ground, path, Way::Along) {
        needs.extend(ground.needs(candidate.facets.iter().copied()));
        let (length, from) = (candidate.weight, station);
        legs.push(Leg { slope: candidate.value, terms: candidate.terms, length, from });
        station += length;
    }
    let first = legs.first()?;
    let mut greatest = (0.0, Terms::new(), first.from);
    for at in legs.iter().skip(1).map(|leg| leg.from) {
        let (before, after) = (mean_slope(&legs, at - window, at), mean_slope(&legs, at, at + window));
        let change = before.0 - after.0;
        if change.abs() > greatest.0 {
            let sign = if change >= 0.0 { 1.0 } else { -1.0 };
            greatest = (change.abs(), combine(&before.1, sign, &after.1, -sign), at);
        }
    }
    let (change, terms, at) = greatest;
    let spot = axis::between(path, at, at + 1e-6).into_iter().next();
    let mut measured = Measured::new(Quantity::new(Dimension::Ratio, change), terms);
    measured.marks = spot.map(|point| Mark::Spot(point.at)).into_iter().collect();
    measured.needs = sorted(needs);
    Some(measured)
}

/// The mean slope between two stations, as far as the legs reach.
fn mean_slope(legs: &[Leg], from: f64, to: f64) -> (f64, Terms) {
    let inside = |leg: &Leg| ((leg.from + leg.length).min(to) - leg.from.max(from)).max(0.0);
    let total: f64 = legs.iter().map(inside).sum();
    let (mut slope, mut gather) = (0.0, Gather::default());
    for leg in legs {
        let share = inside(leg) / total;
        if share > 0.0 {
            slope += leg.slope * share;
            gather.terms(&leg.terms, share);
        }
    }
    (slope, gather.finish())
}
