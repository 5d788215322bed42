use groundrule_kit::{Check, Dimension, Ground, Info, LengthParameter, Reading, Refusal};

use crate::lines::{lines, pairs};

/// Reach to the line: how far a zone around a building can go before it ends at the lot line.
///
/// # What it measures
/// The lesser of `width` and the distance from the subject to each line of the group `lines` of its own lot.
///
/// # Why
/// A zone that an owner must keep, such as the cleared ground around a house where wildfire is a danger, ends where
/// the owner's ground ends. A person should know on which sides it is cut short and who else would have to act.
///
/// # Parameters
/// - `width`: how wide the zone is where nothing cuts it short. Needed.
///
/// # Answers
/// A length for each subject and line, with the facts `distance` (to the line) and `line`. Lacking when the subject
/// has no lot or is not drawn.
///
/// # Cautions
/// The zone is measured level, from the outline as drawn. On a slope fire agencies ask for more below the house.
pub struct ReachToLine;

const WIDTH: LengthParameter =
    LengthParameter::new("width", "How wide the zone is where nothing cuts it short; needed.");

impl Check for ReachToLine {
    const INFO: Info = Info {
        name: "reach-to-line",
        summary: "How far a zone around each subject reaches before the lot line cuts it short.",
        dimension: Some(Dimension::Length),
        parameters: &[WIDTH.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        WIDTH.read(ground)?;
        let Some(width) = ground.parameter_amount("width") else {
            return Err(Refusal::new(
                "parameter `width` is not given; give the width of the zone, such as \"100 ft\"",
            ));
        };
        let lines = lines(ground);
        let mut readings = lines.answered;
        let pairs = pairs(&lines.known);
        let distances = ground.yard(&pairs);
        let others: Vec<_> = pairs.iter().map(|pair| pair.1).collect();
        let labels = ground.labels(&others);
        for (((subject, line), distance), label) in pairs.into_iter().zip(distances).zip(labels) {
            if let Some(reach) = ground.least(&[&width, &distance]) {
                readings.push(
                    Reading::amount(subject, reach).to(line).text("line", label).shown("distance", distance),
                );
            }
        }
        Ok(readings)
    }
}
