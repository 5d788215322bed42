use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::lines::{lines, pairs};

/// Yard sum: the yards of a building on both sides together.
///
/// # What it measures
/// The sum of the distances from the subject to the lines of the group `lines` of its own lot.
///
/// # Why
/// Some codes let a house stand near one side when it leaves more on the other: what they ask for is the sum, so
/// that light and a way to the back remain somewhere.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject, with the fact `least`, the lesser of the yards. Lacking when the subject has no lot, is
/// not drawn, or its lot has only one such line. Not applicable when the lot has no such line.
///
/// # Cautions
/// On a corner lot only one side is an interior side, and the local text says what then counts as the other.
pub struct YardSum;

impl Check for YardSum {
    const INFO: Info = Info {
        name: "yard-sum",
        summary: "The sum of the yards of each subject to lines of its own lot.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let lines = lines(ground);
        let mut readings = lines.answered;
        for on in &lines.known {
            let yards = ground.yard(&pairs(std::slice::from_ref(on)));
            let yards: Vec<&G::Amount> = yards.iter().collect();
            let (sum, least) = (ground.sum(&yards), ground.least(&yards));
            let reading = match (sum, least) {
                (Some(sum), Some(least)) if yards.len() > 1 => {
                    Reading::amount(on.subject, sum).shown("least", least)
                }
                _ => {
                    let lot = on.lot.map_or_else(String::new, |lot| ground.labels(&[lot]).concat());
                    let how = "say under `sides` which sides of the lot the sum runs over; where there is only \
                               one, ask what counts as the other";
                    Reading::lacking(on.subject, Need::new(format!("a second side line of {lot}"), how))
                }
            };
            readings.push(on.others.iter().fold(reading, |reading, &line| reading.to(line)));
        }
        Ok(readings)
    }
}
