use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Need, Reading, Refusal, by_lot};

use crate::ground::length;
use crate::one::{label, stated};

/// Swale length: how long a swale is, beside the paving it takes water from.
///
/// # What it measures
/// The `flow_length` that the swale states, or its line as drawn. The paving is the `drained_area` it states, or the
/// group `paving` on its lot, each place once.
///
/// # Why
/// Water is cleaned by the grass it runs through, and more paving asks for more grass.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject, with the fact `paved_area`. Lacking when it is neither drawn nor stated.
///
/// # Cautions
/// Water that joins half-way runs through half of it. A licensed engineer answers for the design.
pub struct SwaleLength;

impl Check for SwaleLength {
    const INFO: Info = Info {
        name: "swale-length",
        summary: "How long each swale is, beside the paving it takes water from.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["paving"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let on = by_lot(ground, &ground.subjects(), &ground.group("paving"));
        let one = |subject: Feature, others: &[Feature]| {
            let Some(length) = length(ground, subject) else {
                let what = format!("length of {}", label(ground, subject));
                return Reading::lacking(
                    subject,
                    Need::new(what, "draw its line or state its `flow_length`"),
                );
            };
            let stated = stated(ground, subject, "drained_area");
            let paved = stated.unwrap_or_else(|| ground.covered(others, None));
            Reading::amount(subject, length).shown("paved_area", paved)
        };
        Ok(on.iter().map(|on| one(on.subject, &on.others)).collect())
    }
}
