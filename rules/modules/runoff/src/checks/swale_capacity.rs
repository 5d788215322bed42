use groundrule_kit::{Check, Dimension, Ground, Info, LengthParameter, Reading, Refusal};

use crate::channels::{By, CONSTANT, of_swales};

/// Swale capacity: how much water a swale carries.
///
/// # What it measures
/// The flow by Manning when water stands as deep as the swale, less a `freeboard`: from `depth`, `bottom_width` (none is
/// a V), `side_slope`, `slope` and `roughness`.
///
/// # Why
/// A swale that is too small runs over where nobody planned it.
///
/// # Parameters
/// - `freeboard`: bank to be left over the water. Without it, none.
/// - `constant`: `exact`, `us-1486` or `us-149`. Without it, 1.486.
///
/// # Answers
/// A flow for each subject, with the facts `speed` and `flow_depth`. Lacking when a figure is not stated.
///
/// # Cautions
/// The smallest place of a swale decides, and grass grows. A licensed engineer answers for the design.
pub struct SwaleCapacity;

const FREEBOARD: LengthParameter =
    LengthParameter::new("freeboard", "Bank to be left over the water; none when not given.");

impl Check for SwaleCapacity {
    const INFO: Info = Info {
        name: "swale-capacity",
        summary: "The flow that each swale carries.",
        dimension: Some(Dimension::Flow),
        parameters: &[FREEBOARD.info(), CONSTANT.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        FREEBOARD.read(ground)?;
        Ok(of_swales(ground, By::Depth, CONSTANT.read(ground)?, |subject, water| {
            Reading::amount(subject, water.flow).shown("speed", water.speed).shown("flow_depth", water.depth)
        }))
    }
}
