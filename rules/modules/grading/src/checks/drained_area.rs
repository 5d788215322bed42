use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

use crate::amounts::label;
use crate::surface::{GRADE, OnGround, few_levels, on_ground};

/// Drained area: how much of its lot sheds its water to each subject.
///
/// # What it measures
/// The area of the lot from which water, followed down the steepest fall, comes to the subject before it comes to any of
/// the group `others`.
///
/// # Why
/// An inlet, a swale or a rain garden is sized for the ground that drains to it. What drains there is for the levels to
/// say, not for the line that someone drew around it.
///
/// # Parameters
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// An area for each subject, with the fact `stated` where its `drained_area` is. Not applicable to what stands on no lot.
/// Lacking where the plan has no levels of that ground, or none on the lot.
///
/// # Cautions
/// Roofs are no ground: what comes down by pipes is not counted, nor what comes from beyond the lot.
pub struct DrainedArea;

impl Check for DrainedArea {
    const INFO: Info = Info {
        name: "drained-area",
        summary: "The area of the lot whose water comes to each subject.",
        dimension: Some(Dimension::Area),
        parameters: &[GRADE.info()],
        groups: &["others"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let others = ground.group("others");
        let OnGround { grade, subjects, mut readings } = on_ground(ground)?;
        let lots = ground.lot_of(&subjects);
        let stated = ground.stated(&subjects, "drained_area");
        for ((subject, lot), stated) in subjects.into_iter().zip(lots).zip(stated) {
            let Some(lot) = lot else {
                readings.push(Reading::not_applicable(subject, "it stands on no lot"));
                continue;
            };
            let rest = others.iter().copied().filter(|other| *other != subject);
            let ends: Vec<_> = std::iter::once(subject).chain(rest).collect();
            let area = ground.drained_area(grade, lot, &ends).into_iter().next();
            readings.push(match area {
                Some(area) => {
                    let reading = Reading::amount(subject, area);
                    match stated {
                        Some(stated) => reading.shown("stated", stated),
                        None => reading,
                    }
                }
                None => Reading::lacking(subject, few_levels(grade, &label(ground, lot))),
            });
        }
        Ok(readings)
    }
}
