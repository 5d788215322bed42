use groundrule_kit::{Check, Dimension, Ground, Hollow, Info, Reading, Refusal};

use crate::amounts::known;
use crate::surface::{GRADE, on_ground};

/// Hollow depth: how deep water can stand on each subject before it runs off.
///
/// # What it measures
/// The depth of the deepest hollow whose bottom lies within the subject, from its bottom to the lowest place of its
/// rim. A hollow that one of the group `drains` stands at the bottom of holds no water. Where there is none, less than
/// nothing: by how much some place would have to sink to make one.
///
/// # Why
/// A low place without a way out is a pond after every rain: it drowns a lawn, breeds mosquitoes and, beside a house,
/// feeds the wall.
///
/// # Parameters
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A depth for each subject; where there is a hollow, with the facts `area` and `volume` of the deepest. Lacking where
/// the plan has no levels of that ground.
///
/// # Cautions
/// A hollow smaller than the distances between levels does not show, and one level that was misread makes a hollow of
/// its own. Where the levels end, water is taken to run off.
pub struct HollowDepth;

impl Check for HollowDepth {
    const INFO: Info = Info {
        name: "hollow-depth",
        summary: "The depth of the deepest hollow of the ground within each subject.",
        dimension: Some(Dimension::Length),
        parameters: &[GRADE.info()],
        groups: &["drains"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let drains = ground.group("drains");
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        let depths = ground.deepest(on.grade, &on.subjects, &drains);
        for (subject, depth) in on.subjects.into_iter().zip(depths) {
            let deep = known(ground, &depth);
            let size = |hollow: &Hollow<G::Amount>| known(ground, &hollow.depth).unwrap_or(f64::NEG_INFINITY);
            let hollows = ground.hollows(on.grade, subject, &drains).into_iter();
            let deepest = hollows.max_by(|a, b| size(a).total_cmp(&size(b)));
            let mut reading = Reading::amount(subject, depth);
            if deep.is_some_and(|deep| deep <= 0.0) {
                reading = reading.said("no hollow", "no hollow");
            }
            if let Some(hollow) = deepest {
                reading = reading.shown("area", hollow.area).shown("volume", hollow.volume);
            }
            readings.push(reading);
        }
        Ok(readings)
    }
}
