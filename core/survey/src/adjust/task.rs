//! One part of a network that hangs together, and its equations at given values.

use super::elimination::{Reduction, slope_of};
use super::equations::Row;
use super::factor::{Equation, Factor, Normal};
use super::problem::{Block, Plain, Problem};
use super::{Freedom, Part, Settings};

/// Slopes of exact conditions under this, where a whole one is 1, follow from the others.
pub(super) const NO_SLOPE: f64 = 1e-8;
/// One part, ready to be adjusted.
pub(super) struct Task<'a> {
    pub(super) problem: &'a Problem,
    pub(super) block: &'a Block,
    /// Place of each unknown in its block.
    place: &'a [u32],
    pub(super) metres: Vec<f64>,
    pub(super) exact: Vec<u32>,
    pub(super) weighted: Vec<u32>,
    /// Inner constraints of a free net: shares of the shifts from the starting values that add up to nothing.
    pub(super) datum: Vec<Vec<(u32, f64)>>,
}

/// Whitened equations in reduced unknowns with their right-hand side.
pub(super) struct System {
    pub(super) reduction: Reduction,
    pub(super) equations: Vec<Equation>,
    pub(super) right: Vec<f64>,
    pub(super) sum: f64,
}

pub(super) enum Halt {
    /// The rounds ran out, or no step made it better.
    Unsettled(u32),
    Free(Vec<Freedom>),
}

impl<'a> Task<'a> {
    pub(super) fn new(problem: &'a Problem, block: &'a Block, place: &'a [u32]) -> Self {
        let metres =
            block.unknowns.iter().map(|u| problem.metres.get(*u as usize).copied().unwrap_or(1.0)).collect();
        let (exact, weighted) = block
            .observations
            .iter()
            .partition(|id| problem.observations.get(**id as usize).is_some_and(|o| o.sigma == 0.0));
        Self { problem, block, place, metres, exact, weighted, datum: Vec::new() }
    }

    /// Lets the shifts of these points and heights carry the datum together.
    pub(super) fn free_net(&mut self, settings: &Settings) {
        if settings.free.is_empty() && settings.free_heights.is_empty() {
            return;
        }
        self.datum = self.inner_constraints(settings, &self.problem.start);
    }

    /// The movements that are free at these values, as shares of the points that carry the datum.
    pub(super) fn inner_constraints(&self, settings: &Settings, values: &[f64]) -> Vec<Vec<(u32, f64)>> {
        let system = self.system(values, NO_SLOPE);
        let Some(factor) = Normal::new(system.reduction.size, &system.equations).factor(0.0, None) else {
            return Vec::new();
        };
        let carries = |unknown: u32| match self.problem.parts.get(unknown as usize) {
            Some(Part::Spot(spot)) => settings.free.contains(spot),
            Some(Part::Bench(bench)) => settings.free_heights.contains(bench),
            _ => false,
        };
        let movements = factor.freedoms(&system.equations);
        let datum = movements.iter().map(|movement| {
            let steps = system.reduction.steps(movement, false);
            let largest = steps.iter().fold(0.0_f64, |m, s| m.max(s.abs()));
            (0..)
                .zip(&self.block.unknowns)
                .zip(steps)
                .filter(|((_, unknown), _)| carries(**unknown))
                .map(|((local, _), step)| (local, step / largest))
                .collect::<Vec<_>>()
        });
        datum.filter(|shares| !shares.is_empty()).collect()
    }

    pub(super) fn observation(&self, id: u32) -> Option<&Plain> {
        self.problem.observations.get(id as usize)
    }

    /// The row of an observation in unknowns of the block.
    fn row(&self, id: u32, values: &[f64]) -> Row {
        let Some(observation) = self.observation(id) else { return Row::default() };
        let mut row = self.problem.row(observation, values);
        for (unknown, _) in &mut row.slopes {
            *unknown = self.place.get(*unknown as usize).copied().unwrap_or(u32::MAX);
        }
        row
    }

    /// Exact conditions first, then those of the datum.
    pub(super) fn conditions(&self, values: &[f64]) -> Vec<Row> {
        let mut rows: Vec<Row> = self.exact.iter().map(|id| self.row(*id, values)).collect();
        rows.extend(
            self.datum
                .iter()
                .map(|shares| Row { off: self.datum_off(shares, values), slopes: shares.clone() }),
        );
        rows
    }

    fn datum_off(&self, shares: &[(u32, f64)], values: &[f64]) -> f64 {
        let shift = |local: u32| {
            let unknown = *self.block.unknowns.get(local as usize)? as usize;
            Some(values.get(unknown)? - self.problem.start.get(unknown)?)
        };
        shares.iter().map(|(local, share)| share * shift(*local).unwrap_or(0.0)).sum()
    }

    pub(super) fn system(&self, values: &[f64], floor: f64) -> System {
        let reduction = Reduction::new(&self.conditions(values), &self.metres, floor);
        let mut system =
            System { right: vec![0.0; reduction.size], reduction, equations: Vec::new(), sum: 0.0 };
        for id in &self.weighted {
            let sigma = self.observation(*id).map_or(1.0, |o| o.sigma);
            system.add(&self.row(*id, values), sigma);
        }
        system
    }

    /// Every unknown free and the conditions weighted by `softness`, one for each.
    pub(super) fn soft_system(&self, values: &[f64], softness: &[f64]) -> System {
        let reduction = Reduction::none(self.metres.len());
        let mut system =
            System { right: vec![0.0; reduction.size], reduction, equations: Vec::new(), sum: 0.0 };
        for id in &self.weighted {
            let sigma = self.observation(*id).map_or(1.0, |o| o.sigma);
            system.add(&self.row(*id, values), sigma);
        }
        for (row, sigma) in self.conditions(values).iter().zip(softness) {
            system.add(row, *sigma);
        }
        system
    }

    pub(super) fn soft_sum(&self, values: &[f64], softness: &[f64]) -> f64 {
        let mut sum = 0.0;
        let mut add = |off: f64, sigma: f64| sum += (off / sigma) * (off / sigma);
        for observation in self.weighted.iter().filter_map(|id| self.observation(*id)) {
            add(self.problem.off(observation, values), observation.sigma);
        }
        let exact = self.exact.iter().filter_map(|id| self.observation(*id));
        let exact = exact.map(|observation| self.problem.off(observation, values));
        let datum = self.datum.iter().map(|shares| self.datum_off(shares, values));
        for (off, sigma) in exact.chain(datum).zip(softness) {
            add(off, *sigma);
        }
        sum
    }

    /// Uncertainties that hold the conditions well, but not so hard that the way there gets narrow.
    pub(super) fn softness(&self) -> Vec<f64> {
        let start = &self.problem.start;
        let finest = self
            .weighted
            .iter()
            .filter_map(|id| {
                let slope = slope_of(&self.row(*id, start), &self.metres);
                (slope > 0.0).then_some(self.observation(*id)?.sigma / slope)
            })
            .fold(0.1, f64::min);
        let finest = (finest / 10.0).max(1e-6);
        let slopes = self.conditions(start);
        let slopes = slopes.iter().map(|row| slope_of(row, &self.metres));
        slopes.map(|slope| if slope > 0.0 { slope * finest } else { finest }).collect()
    }

    /// The factor of a system that leaves nothing free.
    pub(super) fn certain(&self, system: &System, like: Option<&Factor>) -> Result<Factor, Option<Halt>> {
        let normal = Normal::new(system.reduction.size, &system.equations);
        let factor = normal.factor(0.0, like).ok_or(None)?;
        if !factor.is_doubtful() {
            return Ok(factor);
        }
        let freedoms = self.freedoms_in(system, &factor);
        if !freedoms.is_empty() {
            return Err(Some(Halt::Free(freedoms)));
        }
        normal.factor_weak(&factor).ok_or(None)
    }

    pub(super) fn freedoms_in(&self, system: &System, factor: &Factor) -> Vec<Freedom> {
        let name = |movement: &Vec<f64>| {
            let steps = system.reduction.steps(movement, false);
            let far = |(step, metres): (&f64, &f64)| (step * metres).abs();
            let largest = steps.iter().zip(&self.metres).map(far).fold(0.0, f64::max);
            let mut parts: Vec<Part> = steps
                .iter()
                .zip(&self.metres)
                .zip(&self.block.unknowns)
                .filter(|(step, _)| far(*step) > 1e-6 * largest)
                .filter_map(|(_, unknown)| self.problem.parts.get(*unknown as usize).copied())
                .collect();
            parts.sort_unstable();
            parts.dedup();
            Freedom { parts }
        };
        factor.freedoms(&system.equations).iter().map(name).collect()
    }

    /// What is free to move at these values.
    pub(super) fn freedoms(&self, values: &[f64]) -> Vec<Freedom> {
        let system = self.system(values, NO_SLOPE);
        let factor = Normal::new(system.reduction.size, &system.equations).factor(0.0, None);
        factor.map_or(Vec::new(), |factor| self.freedoms_in(&system, &factor))
    }
}

impl System {
    /// Adds a row with its standard uncertainty.
    fn add(&mut self, row: &Row, sigma: f64) {
        let (mut equation, change) = self.reduction.reduced(&row.slopes);
        let off = (row.off + change) / sigma;
        for (unknown, slope) in &mut equation {
            *slope /= sigma;
            if let Some(right) = self.right.get_mut(*unknown as usize) {
                *right -= *slope * off;
            }
        }
        self.sum += off * off;
        self.equations.push(equation);
    }
}
