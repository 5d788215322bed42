use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, Need, Reading, Refusal, drawn_or_not, drawn_subjects, not_drawn,
};

use crate::amounts::{known, label};

/// Outfall gap: how far the line of each subject is from what its water should end in.
///
/// # What it measures
/// The least distance from the subject, a swale or a pipe, to any of the group `ends`.
///
/// # Why
/// A swale that is drawn to somewhere in the lawn leads its water there and no farther.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject, with the fact `to` (what is nearest). Lacking where nothing of the group is on the plan, or
/// one of the two is stated but not drawn.
///
/// # Cautions
/// That a line comes near to an inlet does not say that its water runs into it; the slope along it does.
pub struct OutfallGap;

impl Check for OutfallGap {
    const INFO: Info = Info {
        name: "outfall-gap",
        summary: "The least distance from each subject to what its water should end in.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["ends"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (ends, undrawn) = drawn_or_not(ground, &ground.group("ends"));
        let (subjects, mut readings) = drawn_subjects(ground);
        for subject in subjects {
            let pairs: Vec<(Feature, Feature)> =
                ends.iter().filter(|end| **end != subject).map(|&end| (subject, end)).collect();
            let gaps = ground.between(&pairs);
            let far = |amount: &G::Amount| known(ground, amount).unwrap_or(f64::INFINITY);
            let nearest = pairs.into_iter().zip(gaps).min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b)));
            readings.push(match (nearest, undrawn.first()) {
                (Some(((_, end), gap)), _) => {
                    Reading::amount(subject, gap).to(end).text("to", label(ground, end))
                }
                (None, Some(&end)) => Reading::lacking(subject, not_drawn(&label(ground, end))),
                (None, None) => {
                    let what = format!("where {} ends", label(ground, subject));
                    Reading::lacking(
                        subject,
                        Need::new(what, "draw the inlet, the outlet, the curb or the lot line it leads to"),
                    )
                }
            });
        }
        Ok(readings)
    }
}
