//! The rounds of an adjustment of one part that hangs together.

use super::elimination::{Reduction, slope_of};
use super::factor::{Equation, Factor, Normal};
use super::task::{Halt, NO_SLOPE, Task};
use super::{AdjustError, ObservationId, Observed, Settings};

/// While the conditions do not hold yet, those that nearly follow from others wait: their slopes are an accident.
const SLIGHT_SLOPE: f64 = 1e-3;

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

impl Task<'_> {
    /// Adjusts the values in place.
    pub(super) fn solve(
        &mut self,
        values: &mut Vec<f64>,
        settings: &Settings,
    ) -> Result<Solved, AdjustError> {
        if self.is_untouched() {
            return self.finish(values, 0);
        }
        let start = values.clone();
        let result = self.settle(values, settings);
        if matches!(result, Err(AdjustError::NotDetermined { .. })) && self.strayed(&start, values) {
            // Determined where it started: a gross error drove it to where nothing holds it any more.
            return Err(self.unsettled(&start, settings.iterations));
        }
        result
    }

    /// True when nothing but error sources is there, which are what they were.
    fn is_untouched(&self) -> bool {
        let source = |id: &u32| {
            self.observation(*id).is_some_and(|o| matches!(o.what, Observed::Source(_)) && o.value == 0.0)
        };
        self.exact.is_empty() && self.datum.is_empty() && self.weighted.iter().all(source)
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
