//! Why a network cannot be adjusted.

use super::{ObservationId, Part};

/// A movement that no observation hinders.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Freedom {
    /// What moves in it, in order.
    pub parts: Vec<Part>,
}

/// Why a network, or a part of it that hangs together, has no adjusted values.
#[derive(Clone, Debug, PartialEq)]
pub enum AdjustError {
    /// The observations leave something free to move.
    NotDetermined {
        /// Each independent movement.
        freedoms: Vec<Freedom>,
    },
    /// Exact conditions cannot hold together.
    Contradictory {
        /// The conditions, in order.
        observations: Vec<ObservationId>,
    },
    /// The values did not settle.
    NoConvergence {
        /// How many rounds were made.
        iterations: u32,
        /// The observation with the largest residual for its uncertainty, if any has one.
        worst: Option<ObservationId>,
    },
    /// A value or an uncertainty is no finite number, is of the wrong dimension, or an uncertainty is negative.
    NotFinite {
        /// The observation.
        observation: ObservationId,
    },
    /// A starting value is no finite number.
    StartNotFinite {
        /// Of what.
        part: Part,
    },
}
