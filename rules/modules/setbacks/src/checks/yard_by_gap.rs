use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal, by_lot};

use crate::lines::{known, lines, pairs};

/// Yard by gap: how far a lesser building stays from lot lines, where the rule hangs on how near the house is.
///
/// # What it measures
/// The distance from the subject to each line of the group `lines` of its own lot, as lot-line-distance does, with
/// the gap to the nearest of the group `main` on that lot beside it, for the row's limit to choose by.
///
/// # Why
/// A shed that stands close to the house is treated as part of it and keeps the yards of the house; one that stands
/// off may come nearer to the line.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject and line, with the facts `gap`, `main` (what to call it) and `line`. Where nothing of
/// `main` stands on the lot there is no `gap`. Lacking when the subject has no lot or is not drawn.
///
/// # Cautions
/// The gap is between outlines as drawn; where eaves overhang, the roofs are nearer. A lot line drawn from a picture
/// is not a boundary.
pub struct YardByGap;

impl Check for YardByGap {
    const INFO: Info = Info {
        name: "yard-by-gap",
        summary: "The yard of each subject, with its gap to the main building for the limit to choose by.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["lines", "main"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let lines = lines(ground);
        let subjects: Vec<_> = lines.known.iter().map(|on| on.subject).collect();
        let mains = by_lot(ground, &subjects, &ground.group("main"));
        let mut readings = lines.answered;
        for (on, main) in lines.known.iter().zip(mains) {
            let near: Vec<_> = main.others.iter().map(|&other| (on.subject, other)).collect();
            let gaps = ground.clearance(&near);
            // Of several, the nearest as far as known; one that lacks its outline leaves the gap lacking.
            let values = known(ground, &gaps).into_iter().map(|value| value.unwrap_or(f64::NEG_INFINITY));
            let least = values.enumerate().min_by(|a, b| a.1.total_cmp(&b.1)).map(|(at, _)| at);
            let own = pairs(std::slice::from_ref(on));
            let yards = ground.yard(&own);
            let labels = ground.labels(&on.others);
            for ((yard, &line), label) in yards.into_iter().zip(&on.others).zip(labels) {
                let mut reading = Reading::amount(on.subject, yard).to(line).text("line", label);
                let gap = least.and_then(|at| Some((gaps.get(at)?, main.others.get(at)?)));
                if let Some((gap, &other)) = gap {
                    reading = reading.text("main", ground.labels(&[other]).concat());
                    if let Some(gap) = ground.scale(&[(gap, 1.0)]).pop() {
                        reading = reading.shown("gap", gap);
                    }
                }
                readings.push(reading);
            }
        }
        Ok(readings)
    }
}
