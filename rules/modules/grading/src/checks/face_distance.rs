use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Reading, Refusal};

use crate::amounts::known;
use crate::faces::on_lots;
use crate::parameters::{EDGE, Edge, STEEPER_THAN, steeper_than};
use crate::surface::{GRADE, on_ground};

/// Face distance: how far each subject stands from the foot or the top of a slope.
///
/// # What it measures
/// A face is ground steeper than `steeper_than` in one piece. With `edge` `toe`, the distance to the foot of each face on
/// the lot that rises from the subject, whose foot is the nearer of its two edges; with `crest`, to the top of each that
/// falls away from it.
///
/// # Why
/// Steep ground sheds water, mud and stones on what stands below it, and slides away from under what stands at its top.
///
/// # Parameters
/// - `edge`: `toe` or `crest`. Without it, `toe`.
/// - `steeper_than`: the slope from which on ground is a face. Needed.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A length for each subject and face, with the facts `face_height` (from the lowest of its foot to the highest of its
/// top) and `face_slope` (its steepest). Not applicable when no ground of the lot is as steep, or every face lies the
/// other way round. Lacking where the plan has no levels of that ground.
///
/// # Cautions
/// The distance is to the line drawn through the levels at foot or top; that line is as good as the levels are close. A
/// wall that is drawn with levels is a face as well, and a steep one.
pub struct FaceDistance;

impl Check for FaceDistance {
    const INFO: Info = Info {
        name: "face-distance",
        summary: "The distance from each subject to the foot or the top of a slope.",
        dimension: Some(Dimension::Length),
        parameters: &[EDGE.info(), STEEPER_THAN, GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (edge, steep) = (EDGE.read(ground)?, steeper_than(ground)?);
        let on = on_ground(ground)?;
        let found = on_lots(ground, on.grade, &on.subjects, steep);
        let mut readings = on.readings;
        readings.extend(found.readings);
        for (subject, lot) in found.subjects {
            let before = readings.len();
            for face in found.faces.get(&lot).into_iter().flatten() {
                let (toe, crest) =
                    (distance(ground, subject, face.toe), distance(ground, subject, face.crest));
                let nearer = |a: Option<&G::Amount>, b: Option<&G::Amount>| {
                    let far = |amount: Option<&G::Amount>| {
                        amount.and_then(|it| known(ground, it)).unwrap_or(f64::INFINITY)
                    };
                    far(a) <= far(b)
                };
                let taken = match edge {
                    Edge::Toe if nearer(toe.as_ref(), crest.as_ref()) => toe,
                    Edge::Crest if !nearer(toe.as_ref(), crest.as_ref()) => crest,
                    _ => None,
                };
                let facts = ground.scale(&[(&face.height, 1.0), (&face.slope, 1.0)]);
                if let (Some(taken), Ok([height, slope])) = (taken, <[G::Amount; 2]>::try_from(facts)) {
                    let reading = Reading::amount(subject, taken);
                    readings.push(reading.shown("face_height", height).shown("face_slope", slope));
                }
            }
            if readings.len() == before {
                let why = match edge {
                    Edge::Toe => "no slope rises from it",
                    Edge::Crest => "no slope falls away from it",
                };
                readings.push(Reading::not_applicable(subject, why));
            }
        }
        Ok(readings)
    }
}

fn distance<G: Ground>(ground: &G, subject: Feature, line: Feature) -> Option<G::Amount> {
    ground.between(&[(subject, line)]).pop()
}
