use groundrule_kit::{Check, Dimension, Ground, Info, ParameterInfo, Reading, Refusal};

use crate::channels::{CONSTANT, pipe};
use crate::one::over;

/// Pipe capacity: how much water a pipe carries.
///
/// # What it measures
/// The flow by Manning through a round pipe that runs full without pressure, or as deep as it states as `flow_depth`:
/// from its `inside_diameter`, `slope` and `roughness`.
///
/// # Why
/// A drain that is too small backs up into the place it should keep dry.
///
/// # Parameters
/// - `constant`: `exact`, `us-1486` or `us-149`. Without it, 1.486.
/// - `intensity`: a rate of rain, for the fact `roof_area`.
///
/// # Answers
/// A flow for each subject, with the facts `speed`, `flow_depth` and, for an `intensity`, `roof_area`: how much roof that
/// sheds all its rain the flow is. Lacking when a figure is not stated.
///
/// # Cautions
/// Bends, inlets, roots and sediment take from it, and the outlet must be free. A licensed engineer answers for the
/// design.
pub struct PipeCapacity;

const INTENSITY: ParameterInfo =
    ParameterInfo { name: "intensity", summary: "A rate of rain, to say how much roof the pipe serves." };

impl Check for PipeCapacity {
    const INFO: Info = Info {
        name: "pipe-capacity",
        summary: "The flow that each pipe carries.",
        dimension: Some(Dimension::Flow),
        parameters: &[CONSTANT.info(), INTENSITY],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let constant = CONSTANT.read(ground)?;
        let rain = ground.parameter_amount(INTENSITY.name);
        let reading = |subject| match pipe(ground, subject, constant) {
            Ok(water) => {
                let roof = rain.as_ref().and_then(|rain| over(ground, &water.flow, rain));
                let reading = Reading::amount(subject, water.flow)
                    .shown("speed", water.speed)
                    .shown("flow_depth", water.depth);
                match roof {
                    Some(roof) => reading.shown("roof_area", roof),
                    None => reading,
                }
            }
            Err(lacking) => lacking,
        };
        Ok(ground.subjects().into_iter().map(reading).collect())
    }
}
