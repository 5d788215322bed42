use groundrule_kit::{Check, Dimension, Ground, Info, ParameterInfo, Reading, Refusal};

use crate::names::amounts;

/// Stated length: a length that the plan states of each subject.
///
/// # What it measures
/// The fact named by `name`, as stated, with its accuracy.
///
/// # Why
/// Some figures are read off the thing and not off the plan: the height of a latch, the sight along a street,
/// the depth of water.
///
/// # Parameters
/// - `name`: the fact, by its name in the plan: `latch_height`. Needed.
///
/// # Answers
/// A length for each subject. Lacking when it is not stated.
///
/// # Cautions
/// A stated figure is as good as whoever stated it; a verdict on it checks the statement and not the thing.
pub struct StatedLength;

const NAME: ParameterInfo =
    ParameterInfo { name: "name", summary: "The stated length to judge, by its name in the plan; needed." };

impl Check for StatedLength {
    const INFO: Info = Info {
        name: "length",
        summary: "A length that the plan states of each subject.",
        dimension: Some(Dimension::Length),
        parameters: &[NAME],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        amounts(ground, NAME.name, "the name of a length, such as \"latch_height\"", "measure it")
    }
}
