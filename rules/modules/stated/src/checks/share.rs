use groundrule_kit::{Check, Dimension, Ground, Info, ParameterInfo, Reading, Refusal};

use crate::names::amounts;

/// Stated share: a slope or another share that the plan states of each subject.
///
/// # What it measures
/// The fact named by `name`, as stated, with its accuracy.
///
/// # Why
/// How much a paved place falls, or how much of a fence one can see through, is read off the thing or set by its
/// designer; a plan seen from above does not show it.
///
/// # Parameters
/// - `name`: the fact, by its name in the plan: `slope`. Needed.
///
/// # Answers
/// A ratio for each subject. Lacking when it is not stated.
///
/// # Cautions
/// A stated figure is as good as whoever stated it; a verdict on it checks the statement and not the thing.
pub struct Share;

const NAME: ParameterInfo = ParameterInfo {
    name: "name",
    summary: "The stated slope or share to judge, by its name in the plan; needed.",
};

impl Check for Share {
    const INFO: Info = Info {
        name: "share",
        summary: "A slope or another share that the plan states of each subject.",
        dimension: Some(Dimension::Ratio),
        parameters: &[NAME],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        amounts(ground, NAME.name, "the name of a slope or share, such as \"slope\"", "take it")
    }
}
