use std::collections::BTreeSet;

use groundrule_kit::{Check, Dimension, Feature, Ground, Info, LengthParameter, Reading, Refusal};

use crate::near::{known, near};

/// Line separation: the earth left beside a line, to another line or to what must stay off it.
///
/// # What it measures
/// The gap on the plan between the subject and each of the group `others`, from outside to outside where a line
/// has a width, on whatever lot they run. A pair that is there both ways is measured once, from the one that comes
/// first in the plan. Two lines that cross or join have no gap beside each other and are left to `crossing-gap`.
///
/// # Why
/// A leak of one line should not reach the other, and one line should be dug up without laying bare the other.
///
/// # Parameters
/// - `reach`: how far to look, a length well above the limit and the accuracy of the plan. Without it, each
///   subject is measured to everything of the group.
///
/// # Answers
/// A length for each pair, with the fact `other` (what to call the other). Not applicable when nothing of the group
/// is within reach, when the pair crosses or joins, or when it is measured from the other. Lacking when one of
/// the two is stated but not drawn.
///
/// # Cautions
/// A drawn line is not a location: have lines marked and exposed before the gap is relied on. A line drawn without
/// a width is measured from its middle, so the true gap is less by half of what it carries.
pub struct LineSeparation;

const REACH: LengthParameter =
    LengthParameter::new("reach", "How far to look for others; all are measured to when not given.");

impl Check for LineSeparation {
    const INFO: Info = Info {
        name: "line-separation",
        summary: "The gap on the plan between each subject and others, lines that cross left out.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info()],
        groups: &["others"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let near = near(ground, &ground.group("others"), REACH.read(ground)?);
        let mut readings = near.without_pair(ground, "nothing to be kept apart from is within reach");

        let is_line = |features: &[Feature]| ground.is_a(features, "buried-line");
        let both_lines = is_line(&near.subjects()).into_iter().zip(is_line(&near.others()));
        let gaps = ground.clearance(&near.pairs);
        let values = known(ground, &gaps);
        let labels = ground.labels(&near.others());
        let all: BTreeSet<(Feature, Feature)> = near.pairs.iter().copied().collect();
        let measured = near.pairs.iter().zip(gaps.into_iter().zip(values)).zip(both_lines.zip(labels));
        readings.extend(measured.map(|((&(subject, other), (gap, value)), (lines, label))| {
            let told = other < subject && all.contains(&(other, subject));
            let crossing = lines == (true, true) && value.is_some_and(|value| value <= 0.0);
            let reading = match (told, crossing) {
                (true, _) => Reading::not_applicable(
                    subject,
                    "the gap is measured from the other, which comes first in the plan",
                ),
                (false, true) => Reading::not_applicable(
                    subject,
                    format!("it crosses or joins {label}; no earth lies between"),
                ),
                (false, false) => Reading::amount(subject, gap),
            };
            reading.to(other).text("other", label)
        }));
        Ok(readings)
    }
}
