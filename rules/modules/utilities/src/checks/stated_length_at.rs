use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Length, Reading, Refusal};

use crate::near::{known, near};
use crate::stated::{NAME, stated_by_row};

/// Stated length at: a length that the plan states of each subject, wherever it meets one of a group.
///
/// # What it measures
/// The attribute that `name` names, once for each of the group `places` that the subject crosses, lies in or touches on
/// the plan: the `cover` of a cable under a drive, the `dig_depth` of work over a drain field.
///
/// # Why
/// What is enough under a lawn is not enough under a wheel.
///
/// # Parameters
/// - `name`: the attribute, as the plan file calls it. Needed.
///
/// # Answers
/// A length for each meeting, with the fact `place` (what it meets). Not applicable when the subject meets none of the
/// group. Lacking when it does not state the length, or one of the two is stated but not drawn.
///
/// # Cautions
/// One length is stated for the whole of a thing; where it differs along the way, state the least. A stated cover is
/// no evidence that it is safe to dig.
pub struct StatedLengthAt;

impl Check for StatedLengthAt {
    const INFO: Info = Info {
        name: "stated-length-at",
        summary: "A length that the plan states of each subject, for each of a group it meets.",
        dimension: Some(Dimension::Length),
        parameters: &[NAME],
        groups: &["places"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let near = near(ground, &ground.group("places"), Some(Length::ZERO));
        let plan = ground.clearance(&near.pairs);
        let values = known(ground, &plan);
        let lengths = stated_by_row(ground, &near.subjects())?;
        let labels = ground.labels(&near.others());
        let mut readings = near.without_pair(ground, "it meets no such thing");
        let all = near.pairs.iter().zip(plan.into_iter().zip(values)).zip(lengths.into_iter().zip(labels));
        readings.extend(all.map(|((&(subject, place), (gap, value)), (length, label))| {
            let subject: Feature = subject;
            let reading = match (value, length) {
                (None, _) => Reading::amount(subject, gap),
                (Some(_), Ok(length)) => Reading::amount(subject, length),
                (Some(_), Err(need)) => Reading::lacking(subject, need),
            };
            reading.to(place).text("place", label)
        }));
        Ok(readings)
    }
}
