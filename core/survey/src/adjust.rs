//! Least-squares adjustment of a network of measurements, apart from the plan file.
//!
//! A [`Network`] holds points and heights, some unknown, some known, some known with an error they share with
//! others, and what was observed between them. [`Network::adjust`] finds the values that make the weighted sum
//! of the squared residuals smallest, and an [`Adjusted`] tells how well each is known and how well each
//! observation is checked by the others.
//!
//! Residuals are *adjusted minus observed* throughout.

mod adjusted;
mod elimination;
mod equations;
mod factor;
mod network;
mod observed;
mod problem;
mod run;
mod solve;
mod spread;
pub mod statistics;
mod task;
mod trouble;

pub use adjusted::{Adjusted, ChiSquare, SourceShift, Term};
pub use network::{Network, Settings};
pub use observed::{Bench, Observation, ObservationId, Observed, Orientation, Origin, Part, Spot};
pub use spread::{Covariance, Ellipse};
pub use trouble::{AdjustError, Freedom};
