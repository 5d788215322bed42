//! Adjusted values and how well each is known.

use groundrule_units::{Angle, Length, Quantity};

use super::{Bench, Covariance, Ellipse, ObservationId, Orientation, Origin, Spot};
use crate::{Position, SourceId};

/// The outcome of an adjustment. Spreads are worked out when asked for.
#[derive(Clone, Debug)]
pub struct Adjusted {}

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

/// Asked with a part of another network, a value is zero and a list is empty.
impl Adjusted {
    /// The adjusted position.
    pub fn position(&self, _spot: Spot) -> Position {
        todo!("next commit")
    }

    /// The adjusted height.
    pub fn height(&self, _bench: Bench) -> Length {
        todo!("next commit")
    }

    /// The adjusted zero of readings along a line.
    pub fn origin(&self, _origin: Origin) -> Length {
        todo!("next commit")
    }

    /// The adjusted azimuth of the zero of a set of directions.
    pub fn orientation(&self, _orientation: Orientation) -> Angle {
        todo!("next commit")
    }

    /// Adjusted minus observed; angles between -180 and 180 degrees, of parallel lines between -90 and 90.
    pub fn residual(&self, _observation: ObservationId) -> Quantity {
        todo!("next commit")
    }

    /// The redundancy number: the share of an error in the observation that shows in its residual, from 0 (nothing
    /// checks it) to 1. 0 for exact conditions.
    pub fn redundancy(&self, _observation: ObservationId) -> f64 {
        todo!("next commit")
    }

    /// The residual over its own standard deviation (Baarda's w), with the sign of the residual; none for
    /// observations that nothing checks.
    pub fn standardised(&self, _observation: ObservationId) -> Option<f64> {
        todo!("next commit")
    }

    /// The smallest blunder that a test at 0.1 % finds with 80 % likelihood; none where nothing checks.
    pub fn detectable(&self, _observation: ObservationId) -> Option<Quantity> {
        todo!("next commit")
    }

    /// The weighted sum of the squared residuals.
    pub fn weighted_sum(&self) -> f64 {
        todo!("next commit")
    }

    /// Degrees of freedom: observations that are not exact, less what is unknown once the exact ones hold.
    pub fn degrees_of_freedom(&self) -> u32 {
        todo!("next commit")
    }

    /// The standard deviation of unit weight from the residuals; none without redundancy.
    pub fn s0(&self) -> Option<f64> {
        todo!("next commit")
    }

    /// The two-sided test of the weighted sum at a level such as 0.95; none without redundancy.
    pub fn chi_square(&self, _level: f64) -> Option<ChiSquare> {
        todo!("next commit")
    }

    /// How many rounds it took.
    pub fn iterations(&self) -> u32 {
        todo!("next commit")
    }

    /// How the errors of two points go together, from the uncertainties as stated (not scaled by `s0`).
    pub fn covariance(&self, _a: Spot, _b: Spot) -> Covariance {
        todo!("next commit")
    }

    /// The standard error ellipse of a point.
    pub fn ellipse(&self, spot: Spot) -> Ellipse {
        self.covariance(spot, spot).ellipse()
    }

    /// How far one standard deviation of each observation moves a point, in order of observation; the covariance
    /// of two points is the sum of the products of their terms. Terms too small to matter are left out.
    pub fn terms(&self, _spot: Spot) -> Vec<Term> {
        todo!("next commit")
    }

    /// The same for a height.
    pub fn height_terms(&self, _bench: Bench) -> Vec<(ObservationId, Length)> {
        todo!("next commit")
    }

    /// What became of a source of error; none if no placed point of the network has it.
    pub fn source(&self, _source: SourceId) -> Option<SourceShift> {
        todo!("next commit")
    }
}
