//! The rounds of an adjustment of one part that hangs together.

use super::elimination::{Reduction, slope_of};
use super::equations::Row;
use super::factor::{Equation, Factor, Normal};
use super::problem::{Block, Plain, Problem};
use super::{AdjustError, Freedom, ObservationId, Part, Settings};

/// Slopes of exact conditions under this, where a whole one is 1, follow from the others.
const NO_SLOPE: f64 = 1e-8;
/// While the conditions do not hold yet, those that nearly follow from others wait: their slopes are an accident.
const SLIGHT_SLOPE: f64 = 1e-3;

/// One part, ready to be adjusted.
pub(super) struct Task<'a> {
    problem: &'a Problem,
    block: &'a Block,
    /// Place of each unknown in its block.
    place: &'a [u32],
    metres: Vec<f64>,
    exact: Vec<u32>,
    weighted: Vec<u32>,
    /// Inner constraints of a free net: shares of the shifts from the starting values that add up to nothing.
    datum: Vec<Vec<(u32, f64)>>,
}

/// One part adjusted.
#[derive(Clone, Debug)]
pub(super) struct Solved {
    pub(super) reduction: Reduction,
    pub(super) factor: Factor,
    /// Whitened equations of the observations that are not exact.
    pub(super) equations: Vec<Equation>,
    /// Which observations these are.
    pub(super) observations: Vec<u32>,
    pub(super) rounds: u32,
}

/// Whitened equations in reduced unknowns with their right-hand side.
struct System {
    reduction: Reduction,
    equations: Vec<Equation>,
    right: Vec<f64>,
    sum: f64,
}

enum Halt {
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
    fn inner_constraints(&self, settings: &Settings, values: &[f64]) -> Vec<Vec<(u32, f64)>> {
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

    fn observation(&self, id: u32) -> Option<&Plain> {
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
    fn conditions(&self, values: &[f64]) -> Vec<Row> {
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

    fn system(&self, values: &[f64], floor: f64) -> System {
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
    fn soft_system(&self, values: &[f64], softness: &[f64]) -> System {
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

    fn soft_sum(&self, values: &[f64], softness: &[f64]) -> f64 {
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
    fn softness(&self) -> Vec<f64> {
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

    /// Steps under this, in metres, are done with.
    fn tolerance(&self) -> f64 {
        1e-9 + 1e-12 * self.problem.extent
    }

    fn stepped(&self, values: &[f64], steps: &[f64]) -> (Vec<f64>, f64) {
        let (mut trial, mut size) = (values.to_vec(), 0.0_f64);
        for ((unknown, step), metres) in self.block.unknowns.iter().zip(steps).zip(&self.metres) {
            if let Some(slot) = trial.get_mut(*unknown as usize) {
                *slot += step;
            }
            // A step that is no number must count as large.
            size = if step.is_finite() { size.max((step * metres).abs()) } else { f64::INFINITY };
        }
        (trial, size)
    }

    /// Steps downhill with every unknown free, damped where a full step would lead up.
    fn descend(&self, values: &mut Vec<f64>, limit: u32) -> Result<u32, Halt> {
        let softness = self.softness();
        let (mut damping, mut harder) = (0.0, 2.0);
        let mut like: Option<Factor> = None;
        for round in 1..=limit {
            let system = self.soft_system(values, &softness);
            let normal = Normal::new(system.reduction.size, &system.equations);
            loop {
                let Some(mut factor) = normal.factor(damping, like.as_ref()) else {
                    return Err(Halt::Unsettled(round));
                };
                if factor.is_doubtful() && damping == 0.0 {
                    if factor.freedoms(&system.equations).is_empty()
                        && let Some(weak) = normal.factor_weak(&factor)
                    {
                        factor = weak;
                    } else {
                        damping = 1e-6;
                        continue;
                    }
                }
                let steps = factor.solve(&system.right);
                let gain: f64 = steps.iter().zip(&system.right).map(|(step, right)| step * right).sum();
                let (trial, size) = self.stepped(values, &steps);
                like = Some(factor);
                let sum = self.soft_sum(&trial, &softness);
                // Damped steps creep where residuals are gross; there is no need to follow them to the last digit.
                let slight = if damping > 0.0 { 1e-12 } else { 1e-15 };
                let settled = damping < 1e3 && (size <= self.tolerance() || gain <= slight * system.sum);
                if sum <= system.sum * (1.0 + 1e-12) {
                    *values = trial;
                    if settled {
                        return Ok(round);
                    }
                    let share = (system.sum - sum) / (gain + damping * normal.square(&steps));
                    if share < 0.25 {
                        // Gross residuals bend the way; without damping the steps would swing across it.
                        damping = f64::max(damping, 0.05);
                    }
                    let easing = 1.0 - (2.0 * share - 1.0) * (2.0 * share - 1.0) * (2.0 * share - 1.0);
                    damping *= easing.clamp(1.0 / 3.0, 2.0);
                    damping = if damping < 1e-4 { 0.0 } else { damping };
                    harder = 2.0;
                    break;
                }
                // What is left of the way down drowns in rounding.
                if settled || damping == 0.0 && gain <= 1e-12 * system.sum {
                    return Ok(round);
                }
                damping = f64::max(damping * harder, 1e-3);
                harder *= 2.0;
                if damping > 1e12 {
                    return Err(Halt::Unsettled(round));
                }
            }
        }
        Err(Halt::Unsettled(limit))
    }

    /// Full steps along the exact conditions.
    fn hold(&self, values: &mut Vec<f64>, limit: u32) -> Result<u32, Halt> {
        let mut floor = SLIGHT_SLOPE;
        let mut like: Option<Factor> = None;
        let mut before = f64::INFINITY;
        for round in 1..=limit {
            let system = self.system(values, floor);
            let factor = self
                .certain(&system, like.as_ref())
                .map_err(|halt| halt.unwrap_or(Halt::Unsettled(round)))?;
            let (trial, size) =
                self.stepped(values, &system.reduction.steps(&factor.solve(&system.right), true));
            if !size.is_finite() || size > 1e3 * self.problem.extent {
                return Err(Halt::Unsettled(round));
            }
            like = Some(factor);
            *values = trial;
            let tolerance = self.tolerance();
            if size <= tolerance || (size <= 100.0 * tolerance && size >= before / 2.0) {
                if floor <= NO_SLOPE || system.reduction.weak.iter().all(|weak| weak.slope <= NO_SLOPE) {
                    return Ok(round);
                }
                floor = NO_SLOPE;
                before = f64::INFINITY;
            } else {
                before = size;
            }
        }
        Err(Halt::Unsettled(limit))
    }

    /// The factor of a system that leaves nothing free.
    fn certain(&self, system: &System, like: Option<&Factor>) -> Result<Factor, Option<Halt>> {
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

    fn freedoms_in(&self, system: &System, factor: &Factor) -> Vec<Freedom> {
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

    /// Adjusts the values in place.
    pub(super) fn solve(
        &mut self,
        values: &mut Vec<f64>,
        settings: &Settings,
    ) -> Result<Solved, AdjustError> {
        let start = values.clone();
        let result = self.settle(values, settings);
        if matches!(result, Err(AdjustError::NotDetermined { .. })) && self.strayed(&start, values) {
            // Determined where it started: a gross error drove it to where nothing holds it any more.
            return Err(self.unsettled(&start, settings.iterations));
        }
        result
    }

    /// True when something went much further than the whole is large.
    fn strayed(&self, start: &[f64], values: &[f64]) -> bool {
        let far = |(unknown, metres): (&u32, &f64)| {
            let at = |values: &[f64]| values.get(*unknown as usize).copied().unwrap_or(0.0);
            (at(values) - at(start)).abs() * metres > 10.0 * self.problem.extent
        };
        self.block.unknowns.iter().zip(&self.metres).any(far)
    }

    fn settle(&mut self, values: &mut Vec<f64>, settings: &Settings) -> Result<Solved, AdjustError> {
        let freedoms = self.freedoms(values);
        if !freedoms.is_empty() {
            return Err(AdjustError::NotDetermined { freedoms });
        }
        let mut rounds = 0;
        let bound = !(self.exact.is_empty() && self.datum.is_empty());
        let mut halt = None;
        match self.descend(values, settings.iterations) {
            Ok(made) => rounds += made,
            // With conditions the way downhill need not be walked to its end.
            Err(Halt::Unsettled(made)) if bound => rounds += made,
            Err(other) => halt = Some(other),
        }
        if bound && halt.is_none() {
            let before = values.clone();
            match self.hold(values, settings.iterations) {
                Ok(made) => rounds += made,
                Err(other) => {
                    *values = before;
                    halt = Some(other);
                }
            }
        }
        let observations = self.broken(values);
        if !observations.is_empty() {
            return Err(AdjustError::Contradictory { observations });
        }
        match halt {
            None => {
                if !self.datum.is_empty() {
                    // The spread is told where the net came to rest.
                    let datum = std::mem::take(&mut self.datum);
                    self.datum = self.inner_constraints(settings, values);
                    if self.datum.len() != datum.len() {
                        self.datum = datum;
                    }
                }
                self.finish(values, rounds)
            }
            Some(Halt::Free(freedoms)) => Err(AdjustError::NotDetermined { freedoms }),
            Some(Halt::Unsettled(made)) => Err(self.unsettled(values, rounds + made)),
        }
    }

    fn finish(&self, values: &[f64], rounds: u32) -> Result<Solved, AdjustError> {
        let system = self.system(values, NO_SLOPE);
        let factor = self.certain(&system, None).map_err(|halt| match halt {
            Some(Halt::Free(freedoms)) => AdjustError::NotDetermined { freedoms },
            _ => self.unsettled(values, rounds),
        })?;
        Ok(Solved {
            reduction: system.reduction,
            factor,
            equations: system.equations,
            observations: self.weighted.clone(),
            rounds,
        })
    }

    /// Exact conditions that do not hold, with those they cannot hold together with.
    fn broken(&self, values: &[f64]) -> Vec<ObservationId> {
        let rows = self.conditions(values);
        let near = 1e-7 + 1e-11 * self.problem.extent;
        let mut broken: Vec<usize> = Vec::new();
        for (place, row) in rows.iter().enumerate() {
            let slope = slope_of(row, &self.metres);
            if row.off.abs() > near * if slope > 0.0 { slope } else { 1.0 } {
                broken.push(place);
            }
        }
        if broken.is_empty() {
            return Vec::new();
        }
        let reduction = Reduction::new(&rows, &self.metres, SLIGHT_SLOPE);
        for weak in reduction.weak.iter().filter(|weak| weak.rest > near) {
            broken.extend(&weak.from);
        }
        broken.sort_unstable();
        broken.dedup();
        broken.iter().filter_map(|place| self.exact.get(*place).copied()).map(ObservationId).collect()
    }

    fn unsettled(&self, values: &[f64], iterations: u32) -> AdjustError {
        let mut worst: Option<(f64, u32)> = None;
        for id in &self.weighted {
            if let Some(observation) = self.observation(*id) {
                let size = (self.problem.off(observation, values) / observation.sigma).abs();
                if worst.is_none_or(|(most, _)| size > most) {
                    worst = Some((size, *id));
                }
            }
        }
        AdjustError::NoConvergence { iterations, worst: worst.map(|(_, id)| ObservationId(id)) }
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
