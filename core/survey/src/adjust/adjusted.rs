//! Adjusted values and how well each is known.

use groundrule_units::{Angle, Area, Length, Quantity};

use super::factor::Work;
use super::network::Linear;
use super::problem::Problem;
use super::solve::Solved;
use super::{Bench, Covariance, Ellipse, ObservationId, Orientation, Origin, Spot, statistics};
use crate::{Position, SourceId};

/// Redundancy numbers under this are rounding: nothing checks the observation.
const NO_REDUNDANCY: f64 = 1e-8;
/// Terms under this share of a point's largest are left out.
const SLIGHT_TERM: f64 = 1e-9;

/// The outcome of an adjustment. Spreads are worked out when asked for.
#[derive(Clone, Debug)]
pub struct Adjusted {
    problem: Problem,
    values: Vec<f64>,
    /// Block of each unknown and its place there.
    place: Vec<(u32, u32)>,
    blocks: Vec<Solved>,
    checks: Vec<Check>,
    weighted_sum: f64,
    degrees: u32,
}

/// What came out for an observation.
#[derive(Clone, Copy, Debug)]
struct Check {
    residual: f64,
    redundancy: f64,
}

/// How far one standard deviation of an observation moves a point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term {
    /// The observation.
    pub observation: ObservationId,
    /// To the right.
    pub x: Length,
    /// Up.
    pub y: Length,
}

/// What an adjustment found out about a source of error: the source is now `shift` plus the sum of the terms,
/// each times the standard normal variable of its observation.
#[derive(Clone, Debug, PartialEq)]
pub struct SourceShift {
    /// The most likely value of the source, in its standard deviations.
    pub shift: f64,
    /// How far one standard deviation of each observation moves it; that of its own automatic observation is
    /// the source as it was before.
    pub terms: Vec<(ObservationId, f64)>,
}

/// The test of the sum of squares against its bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChiSquare {
    /// The lower bound.
    pub low: f64,
    /// The upper bound.
    pub high: f64,
    /// True when the sum lies between them.
    pub passed: bool,
}

impl Adjusted {
    pub(super) fn new(
        problem: Problem,
        values: Vec<f64>,
        place: Vec<(u32, u32)>,
        blocks: Vec<Solved>,
    ) -> Self {
        let mut checks: Vec<Check> = problem
            .observations
            .iter()
            .map(|o| Check {
                residual: problem.off(o, &values),
                // Between known things, nothing gives way to it.
                redundancy: if o.sigma > 0.0 { 1.0 } else { 0.0 },
            })
            .collect();
        let mut work = Work::default();
        for block in &blocks {
            for (id, equation) in block.observations.iter().zip(&block.equations) {
                if let Some(check) = checks.get_mut(*id as usize) {
                    let redundancy = 1.0 - block.factor.form(equation, &mut work);
                    check.redundancy = if redundancy < NO_REDUNDANCY { 0.0 } else { redundancy };
                }
            }
        }
        let weighted = problem.observations.iter().zip(&checks).filter(|(o, _)| o.sigma > 0.0);
        let (count, weighted_sum) = weighted.fold((0, 0.0), |(count, sum), (o, check)| {
            let whitened = check.residual / o.sigma;
            (count + 1, sum + whitened * whitened)
        });
        let unknowns: usize = blocks.iter().map(|block| block.reduction.size).sum();
        let degrees = u32::try_from(usize::saturating_sub(count, unknowns)).unwrap_or(u32::MAX);
        Self { problem, values, place, blocks, checks, weighted_sum, degrees }
    }

    fn check(&self, id: ObservationId) -> Check {
        self.checks.get(id.index()).copied().unwrap_or(Check { residual: 0.0, redundancy: 0.0 })
    }

    fn sigma(&self, id: ObservationId) -> f64 {
        self.problem.observations.get(id.index()).map_or(0.0, |o| o.sigma)
    }

    fn quantity(&self, id: ObservationId, si: f64) -> Option<Quantity> {
        Some(Quantity::new(self.problem.observations.get(id.index())?.what.dimension(), si))
    }

    fn value(&self, linear: Option<&Linear>) -> f64 {
        linear.map_or(0.0, |linear| linear.at(&self.values))
    }
}

/// Asked with a part of another network, a value is zero and a list is empty.
impl Adjusted {
    /// The adjusted position.
    pub fn position(&self, spot: Spot) -> Position {
        let Some([x, y]) = self.problem.spots.get(spot.0 as usize) else { return Position::default() };
        let [dx, dy] = self.problem.shift;
        Position {
            x: Length::from_metres(x.at(&self.values) + dx),
            y: Length::from_metres(y.at(&self.values) + dy),
        }
    }

    /// The adjusted height.
    pub fn height(&self, bench: Bench) -> Length {
        Length::from_metres(self.value(self.problem.benches.get(bench.0 as usize)))
    }

    /// The adjusted zero of readings along a line.
    pub fn origin(&self, origin: Origin) -> Length {
        Length::from_metres(self.value(self.problem.origins.get(origin.0 as usize)))
    }

    /// The adjusted azimuth of the zero of a set of directions.
    pub fn orientation(&self, orientation: Orientation) -> Angle {
        Angle::from_radians(self.value(self.problem.orientations.get(orientation.0 as usize)))
    }

    /// Adjusted minus observed; angles between -180 and 180 degrees, of parallel lines between -90 and 90.
    pub fn residual(&self, observation: ObservationId) -> Quantity {
        let zero = Quantity::from(Length::ZERO);
        self.quantity(observation, self.check(observation).residual).unwrap_or(zero)
    }

    /// The redundancy number: the share of an error in the observation that shows in its residual, from 0 (nothing
    /// checks it) to 1. 0 for exact conditions.
    pub fn redundancy(&self, observation: ObservationId) -> f64 {
        self.check(observation).redundancy
    }

    /// The residual over its own standard deviation (Baarda's w), with the sign of the residual; none for
    /// observations that nothing checks.
    pub fn standardised(&self, observation: ObservationId) -> Option<f64> {
        let Check { residual, redundancy } = self.check(observation);
        (redundancy > 0.0).then(|| residual / (self.sigma(observation) * libm::sqrt(redundancy)))
    }

    /// The smallest blunder that a test at 0.1 % finds with 80 % likelihood; none where nothing checks.
    pub fn detectable(&self, observation: ObservationId) -> Option<Quantity> {
        let redundancy = self.check(observation).redundancy;
        let size = statistics::detectable_bias(0.001, 0.8) * self.sigma(observation) / libm::sqrt(redundancy);
        self.quantity(observation, size).filter(|_| redundancy > 0.0)
    }

    /// The weighted sum of the squared residuals.
    pub fn weighted_sum(&self) -> f64 {
        self.weighted_sum
    }

    /// Degrees of freedom: observations that are not exact, less what is unknown once the exact ones hold.
    pub fn degrees_of_freedom(&self) -> u32 {
        self.degrees
    }

    /// The standard deviation of unit weight from the residuals; none without redundancy.
    pub fn s0(&self) -> Option<f64> {
        (self.degrees > 0).then(|| libm::sqrt(self.weighted_sum / f64::from(self.degrees)))
    }

    /// The two-sided test of the weighted sum at a level such as 0.95; none without redundancy.
    pub fn chi_square(&self, level: f64) -> Option<ChiSquare> {
        let tail = (1.0 - level) / 2.0;
        let low = statistics::chi_square_quantile(tail, self.degrees)?;
        let high = statistics::chi_square_quantile(1.0 - tail, self.degrees)?;
        Some(ChiSquare { low, high, passed: low <= self.weighted_sum && self.weighted_sum <= high })
    }

    /// How many rounds it took, in the part that took most.
    pub fn iterations(&self) -> u32 {
        self.blocks.iter().map(|block| block.rounds).max().unwrap_or(0)
    }

    /// How the errors of two points go together, from the uncertainties as stated (not scaled by `s0`).
    pub fn covariance(&self, a: Spot, b: Spot) -> Covariance {
        let (Some(first), Some(second)) =
            (self.problem.spots.get(a.0 as usize), self.problem.spots.get(b.0 as usize))
        else {
            return Covariance::default();
        };
        let mut sums = [[0.0; 2]; 2];
        let right = second.each_ref().map(|linear| self.sides(linear));
        for (row, linear) in sums.iter_mut().zip(first) {
            for (block, side) in self.sides(linear) {
                let Some(solved) = self.blocks.get(block as usize) else { continue };
                let moved = solved.factor.solve(&dense(&side, solved.reduction.size));
                for (sum, sides) in row.iter_mut().zip(&right) {
                    let other = sides.iter().filter(|(b, _)| *b == block).flat_map(|(_, side)| side);
                    *sum +=
                        other.map(|(i, s)| s * moved.get(*i as usize).copied().unwrap_or(0.0)).sum::<f64>();
                }
            }
        }
        let area = Area::from_square_metres;
        Covariance { xx: area(sums[0][0]), xy: area(sums[0][1]), yx: area(sums[1][0]), yy: area(sums[1][1]) }
    }

    /// The standard error ellipse of a point.
    pub fn ellipse(&self, spot: Spot) -> Ellipse {
        self.covariance(spot, spot).ellipse()
    }

    /// How far one standard deviation of each observation moves a point, in order of observation; the covariance
    /// of two points is the sum of the products of their terms. Terms too small to matter are left out.
    pub fn terms(&self, spot: Spot) -> Vec<Term> {
        let Some([x, y]) = self.problem.spots.get(spot.0 as usize) else { return Vec::new() };
        let (x, y) = (self.linear_terms(x), self.linear_terms(y));
        let mut all: Vec<(u32, f64, f64)> = x.into_iter().map(|(id, x)| (id, x, 0.0)).collect();
        all.extend(y.into_iter().map(|(id, y)| (id, 0.0, y)));
        all.sort_by_key(|(id, ..)| *id);
        all.dedup_by(|next, kept| {
            let same = next.0 == kept.0;
            if same {
                (kept.1, kept.2) = (kept.1 + next.1, kept.2 + next.2);
            }
            same
        });
        let size = |(_, x, y): &(u32, f64, f64)| f64::max(x.abs(), y.abs());
        let least = SLIGHT_TERM * all.iter().map(size).fold(0.0, f64::max);
        all.iter()
            .filter(|term| size(term) > least)
            .map(|(id, x, y)| Term {
                observation: ObservationId(*id),
                x: Length::from_metres(*x),
                y: Length::from_metres(*y),
            })
            .collect()
    }

    /// The same for a height.
    pub fn height_terms(&self, bench: Bench) -> Vec<(ObservationId, Length)> {
        let Some(height) = self.problem.benches.get(bench.0 as usize) else { return Vec::new() };
        let terms = large(self.linear_terms(height));
        terms.map(|(id, term)| (ObservationId(id), Length::from_metres(term))).collect()
    }

    /// What became of a source of error; none if no placed point of the network has it.
    pub fn source(&self, source: SourceId) -> Option<SourceShift> {
        let sources = &self.problem.sources;
        let at = sources.binary_search_by_key(&source, |(id, _)| *id).ok()?;
        let (_, unknown) = *sources.get(at)?;
        let linear = Linear { base: 0.0, terms: smallvec::smallvec![(unknown, 1.0)] };
        let terms = large(self.linear_terms(&linear)).map(|(id, term)| (ObservationId(id), term)).collect();
        Some(SourceShift { shift: linear.at(&self.values), terms })
    }
}

impl Adjusted {
    /// A sum over unknowns as sums over the reduced unknowns of each block.
    fn sides(&self, linear: &Linear) -> Vec<(u32, Vec<(u32, f64)>)> {
        let mut slopes: Vec<(u32, u32, f64)> = linear
            .terms
            .iter()
            .filter_map(|(unknown, term)| {
                let (block, local) = *self.place.get(*unknown as usize)?;
                Some((block, local, *term))
            })
            .collect();
        slopes.sort_by_key(|(block, local, _)| (*block, *local));
        slopes
            .chunk_by(|a, b| a.0 == b.0)
            .filter_map(|chunk| {
                let block = chunk.first()?.0;
                let own: Vec<(u32, f64)> = chunk.iter().map(|(_, local, term)| (*local, *term)).collect();
                Some((block, self.blocks.get(block as usize)?.reduction.reduced(&own).0))
            })
            .collect()
    }

    /// How far one standard deviation of each observation moves a sum of unknowns, in order of observation.
    fn linear_terms(&self, linear: &Linear) -> Vec<(u32, f64)> {
        let mut terms = Vec::new();
        for (block, side) in self.sides(linear) {
            let Some(solved) = self.blocks.get(block as usize) else { continue };
            let moved = solved.factor.solve(&dense(&side, solved.reduction.size));
            for (id, equation) in solved.observations.iter().zip(&solved.equations) {
                let slopes = equation.iter();
                let term: f64 = slopes.map(|(i, s)| s * moved.get(*i as usize).copied().unwrap_or(0.0)).sum();
                if term != 0.0 {
                    terms.push((*id, term));
                }
            }
        }
        terms.sort_by_key(|(id, _)| *id);
        terms
    }
}

fn large(terms: Vec<(u32, f64)>) -> impl Iterator<Item = (u32, f64)> {
    let least = SLIGHT_TERM * terms.iter().map(|(_, term)| term.abs()).fold(0.0, f64::max);
    terms.into_iter().filter(move |(_, term)| term.abs() > least)
}

fn dense(side: &[(u32, f64)], size: usize) -> Vec<f64> {
    let mut right = vec![0.0; size];
    for (i, value) in side {
        if let Some(slot) = right.get_mut(*i as usize) {
            *slot += value;
        }
    }
    right
}
