use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::channels::{By, CONSTANT, swale};
use crate::one::{label, stated, unstated};

/// Swale freeboard: how much bank a swale has over its water.
///
/// # What it measures
/// The `depth` of the swale, less the depth at which it carries its `design_flow` by Manning, or its `flow_depth`.
///
/// # Why
/// What is over the water takes the waves, the leaves and the rain that is harder than the one designed for.
///
/// # Parameters
/// - `constant`: `exact`, `us-1486` or `us-149`. Without it, 1.486.
///
/// # Answers
/// A length for each subject, negative where it overflows, with the facts `flow_depth` and `flow`. Lacking when a figure
/// is not stated.
///
/// # Cautions
/// The lowest place of the bank counts, and settles. A licensed engineer answers for the design.
pub struct SwaleFreeboard;

impl Check for SwaleFreeboard {
    const INFO: Info = Info {
        name: "swale-freeboard",
        summary: "How much bank each swale has over its water.",
        dimension: Some(Dimension::Length),
        parameters: &[CONSTANT.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let constant = CONSTANT.read(ground)?;
        let reading = |subject| {
            let need = || -> Need { unstated("depth", &label(ground, subject), "measure how deep it is") };
            let Some(depth) = stated(ground, subject, "depth") else {
                return Reading::lacking(subject, need());
            };
            match swale(ground, subject, By::Design, constant) {
                Ok(water) => match ground.subtract(&[(&depth, &water.depth)]).pop() {
                    Some(room) => Reading::amount(subject, room)
                        .shown("flow_depth", water.depth)
                        .shown("flow", water.flow),
                    None => Reading::lacking(subject, need()),
                },
                Err(lacking) => lacking,
            }
        };
        Ok(ground.subjects().into_iter().map(reading).collect())
    }
}
