use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::stated::{NAME, stated_by_row};

/// Stated length: a length that the plan states of each subject.
///
/// # What it measures
/// The attribute that `name` names, with its accuracy: the `cover` of a pipe, the `ground_clearance` of a wire, the
/// height of a backflow preventer over what it serves.
///
/// # Why
/// Some figures no drawing shows, and whoever knows them writes them beside the thing.
///
/// # Parameters
/// - `name`: the attribute, as the plan file calls it. Needed.
///
/// # Answers
/// A length for each subject. Lacking when it does not state it.
///
/// # Cautions
/// It is as good as whoever stated it. A stated cover is no evidence that it is safe to dig.
pub struct StatedLength;

impl Check for StatedLength {
    const INFO: Info = Info {
        name: "stated-length",
        summary: "A length that the plan states of each subject, by its name.",
        dimension: Some(Dimension::Length),
        parameters: &[NAME],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let subjects = ground.subjects();
        let lengths = stated_by_row(ground, &subjects)?;
        let reading = |(subject, length): (_, Result<G::Amount, Need>)| match length {
            Ok(length) => Reading::amount(subject, length),
            Err(need) => Reading::lacking(subject, need),
        };
        Ok(subjects.into_iter().zip(lengths).map(reading).collect())
    }
}
