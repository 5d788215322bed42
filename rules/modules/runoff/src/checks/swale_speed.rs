use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

use crate::channels::{By, CONSTANT, of_swales};

/// Swale speed: how fast water runs in a swale.
///
/// # What it measures
/// The mean speed by Manning at the `design_flow` that the swale states, or, where it states none, at its `flow_depth`:
/// from `bottom_width` (none is a V), `side_slope`, `slope` and `roughness`.
///
/// # Why
/// Water that runs fast takes grass and soil along; in a swale meant to clean water it must linger.
///
/// # Parameters
/// - `constant`: `exact`, `us-1486` or `us-149`. Without it, 1.486.
///
/// # Answers
/// A speed for each subject, with the facts `flow` and `flow_depth`. Lacking when a figure is not stated.
///
/// # Cautions
/// Grass bends, and its roughness changes with depth and season. A licensed engineer answers for the design.
pub struct SwaleSpeed;

impl Check for SwaleSpeed {
    const INFO: Info = Info {
        name: "swale-speed",
        summary: "How fast water runs in each swale.",
        dimension: Some(Dimension::Speed),
        parameters: &[CONSTANT.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        Ok(of_swales(ground, By::Design, CONSTANT.read(ground)?, |subject, water| {
            Reading::amount(subject, water.speed).shown("flow", water.flow).shown("flow_depth", water.depth)
        }))
    }
}
