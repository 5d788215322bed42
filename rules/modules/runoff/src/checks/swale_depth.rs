use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

use crate::channels::{By, CONSTANT, of_swales};

/// Swale depth: how deep water stands in a swale.
///
/// # What it measures
/// The depth by Manning at which the swale carries the `design_flow` it states; where it states none, its `flow_depth`.
///
/// # Why
/// Deep water in a swale is a hazard, lays the grass flat and leaves no room for a harder rain.
///
/// # Parameters
/// - `constant`: `exact`, `us-1486` or `us-149`. Without it, 1.486.
///
/// # Answers
/// A length for each subject, with the facts `flow` and `speed`. Lacking when a figure is not stated.
///
/// # Cautions
/// The depth is that of even flow; it is deeper above a pipe or a bend. A licensed engineer answers for the design.
pub struct SwaleDepth;

impl Check for SwaleDepth {
    const INFO: Info = Info {
        name: "swale-depth",
        summary: "How deep water stands in each swale.",
        dimension: Some(Dimension::Length),
        parameters: &[CONSTANT.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        Ok(of_swales(ground, By::Design, CONSTANT.read(ground)?, |subject, water| {
            Reading::amount(subject, water.depth).shown("flow", water.flow).shown("speed", water.speed)
        }))
    }
}
