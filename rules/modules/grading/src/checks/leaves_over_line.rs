use std::collections::BTreeMap;

use groundrule_kit::{Check, Choice, Dimension, Feature, Grade, Ground, Info, Reading, Refusal};

use crate::amounts::{label, less};
use crate::surface::{few_levels, no_levels, on_ground};

/// Leaves over line: how much of each lot sheds its water over its lines.
///
/// # What it measures
/// For each of the group `lines`, the area of the lot from which water leaves over that line on the proposed ground;
/// less what leaves there on the existing ground, where that is compared.
///
/// # Why
/// Water that always ran onto the lot next door may go on doing so; what a new drive or a filled yard adds to it is what
/// neighbors go to court over.
///
/// # Parameters
/// - `compare`: `existing`, to take off what leaves there today, or `none`. Without it, `existing`.
///
/// # Answers
/// An area for each lot and line, with the facts `after` and, where compared, `before`. Not applicable when none of the
/// group is a line of the lot. Lacking where the plan has no levels of a ground.
///
/// # Cautions
/// An area is good to about a foot along the divides between the parts that shed alike. Areas say nothing of how fast
/// water leaves: paving sheds more from the same area than grass.
pub struct LeavesOverLine;

const COMPARE: Choice<bool> = Choice::new(
    "compare",
    "What is taken off: what leaves on the `existing` ground, or `none`; `existing` when not given.",
    &[("existing", true), ("none", false)],
    true,
);

impl Check for LeavesOverLine {
    const INFO: Info = Info {
        name: "leaves-over-line",
        summary: "The area of each lot from which water leaves over each of its lines, more than it does today.",
        dimension: Some(Dimension::Area),
        parameters: &[COMPARE.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let compare = COMPARE.read(ground)?;
        let lines = ground.group("lines");
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        let today = !compare || ground.known(Grade::Existing);
        for lot in on.subjects {
            if !today {
                readings.push(Reading::lacking(lot, no_levels(Grade::Existing)));
                continue;
            }
            let before: BTreeMap<Feature, G::Amount> = if compare {
                ground.leaves_over(Grade::Existing, lot).into_iter().collect()
            } else {
                BTreeMap::new()
            };
            let after = ground.leaves_over(Grade::Proposed, lot);
            if after.is_empty() || (compare && before.is_empty()) {
                let grade = if after.is_empty() { Grade::Proposed } else { Grade::Existing };
                readings.push(Reading::lacking(lot, few_levels(grade, &label(ground, lot))));
                continue;
            }
            let mut after = after.into_iter().filter(|(line, _)| lines.contains(line)).peekable();
            if after.peek().is_none() {
                readings.push(Reading::not_applicable(lot, "none of its lines is of that sort"));
            }
            for (line, after) in after {
                let more = before.get(&line).and_then(|before| less(ground, &after, before));
                let reading = match (more, before.get(&line).and_then(|it| ground.scale(&[(it, 1.0)]).pop()))
                {
                    (Some(more), Some(before)) => {
                        Reading::amount(lot, more).shown("before", before).shown("after", after)
                    }
                    _ => match ground.scale(&[(&after, 1.0)]).pop() {
                        Some(same) => Reading::amount(lot, same).shown("after", after),
                        None => Reading::amount(lot, after),
                    },
                };
                readings.push(reading.to(line));
            }
        }
        Ok(readings)
    }
}
