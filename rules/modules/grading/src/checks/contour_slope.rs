use groundrule_kit::{Check, Dimension, Ground, Info, LengthParameter, Reading, Refusal};

use crate::amounts::known;
use crate::parameters::needed;
use crate::surface::{GRADE, on_ground};

/// Contour slope: the average slope of each subject by the length of its contours.
///
/// # What it measures
/// The length of all contours at `interval` inside the subject, times the interval, over the area of the subject. With
/// the interval and the length in feet and the area in acres this is 0.0023 times both over the area, in percent, as
/// hillside texts write it.
///
/// # Why
/// Rules for hillsides sort lots by an average slope, and most say to take it from the contours.
///
/// # Parameters
/// - `interval`: between the contours. Needed.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A slope for each subject, with the fact `contours` (their length). Lacking where the plan has no levels of that
/// ground, or too few around the subject.
///
/// # Cautions
/// Ground under a building has no contours, and its area counts: the figure is then too low. How the area errs is not
/// taken in, since the lengths err far more. A wide interval misses what lies between its contours.
pub struct ContourSlope;

const INTERVAL: LengthParameter = LengthParameter::new("interval", "The interval of the contours; needed.");

impl Check for ContourSlope {
    const INFO: Info = Info {
        name: "contour-slope",
        summary: "The average slope of each subject by the length of its contours.",
        dimension: Some(Dimension::Ratio),
        parameters: &[INTERVAL.info(), GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let interval = needed(ground, &INTERVAL)?;
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        let lengths = ground.contour_length(on.grade, &on.subjects, interval);
        let areas = ground.area(&on.subjects);
        for ((subject, length), area) in on.subjects.into_iter().zip(lengths).zip(areas) {
            let size = known(ground, &area).filter(|size| *size > 0.0);
            // The length over the length of contours that a slope of one to one would have.
            let steep = size.zip(ground.parameter_amount("interval")).and_then(|(size, one)| {
                let metres = interval.metres();
                ground.scale(&[(&one, size / (metres * metres))]).pop()
            });
            let slope = steep.and_then(|steep| ground.ratio(&[(&length, &steep)]).pop().flatten());
            readings.push(match slope {
                Some(slope) => Reading::amount(subject, slope).shown("contours", length),
                None => Reading::not_applicable(subject, "it covers no area"),
            });
        }
        Ok(readings)
    }
}
