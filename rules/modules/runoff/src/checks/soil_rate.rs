use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

use crate::one::Asking;

/// Soil rate: how fast the soil under something takes in water.
///
/// # What it measures
/// The `soil_rate` that the subject states, from a test.
///
/// # Why
/// Where soil takes in nothing, a garden or a pit for rain only keeps it.
///
/// # Parameters
/// None.
///
/// # Answers
/// A speed for each subject. Lacking when it is not stated.
///
/// # Cautions
/// One test hole is one place on one day; soil that was driven over takes in far less.
pub struct SoilRate;

impl Check for SoilRate {
    const INFO: Info = Info {
        name: "soil-rate",
        summary: "How fast the soil under each subject takes in water.",
        dimension: Some(Dimension::Speed),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let one = |subject| {
            let mut asking = Asking::of(ground, subject);
            match asking.amount("soil_rate", "test how fast water sinks in a hole there") {
                Some(rate) => Reading::amount(subject, rate),
                None => asking.lacking(("soil rate", "test it")),
            }
        };
        Ok(ground.subjects().into_iter().map(one).collect())
    }
}
