use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Reading, Refusal};

use crate::amounts::known;
use crate::faces::on_lots;
use crate::parameters::{EDGE, Edge, STEEPER_THAN, steeper_than};
use crate::surface::{GRADE, on_ground};

/// Face to line: how far the foot or the top of each slope stays from the lines of its lot.
///
/// # What it measures
/// A face is ground steeper than `steeper_than` in one piece. For each face on the subject, a lot, and each of the group
/// `lines` of that lot: with `edge` `toe`, the distance from the line to its foot where the foot is the nearer, so that
/// the ground rises from the line inward (a fill); with `crest`, to its top where the top is the nearer (a cut).
///
/// # Why
/// A slope that starts right at the line puts its mud, or its fall, on the lot next door, and leaves no room to mend it.
///
/// # Parameters
/// - `edge`: `toe` or `crest`. Without it, `toe`.
/// - `steeper_than`: the slope from which on ground is a face. Needed.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A length for each face and line, with the facts `face_height` and `face_slope`. Not applicable when no ground of the
/// lot is as steep, or no face has that edge toward one of the lines. Lacking where the plan has no levels of that ground.
///
/// # Cautions
/// Whether a slope was made or always lay there is not known. A wall that is drawn with levels is a face as well.
pub struct FaceToLine;

impl Check for FaceToLine {
    const INFO: Info = Info {
        name: "face-to-line",
        summary: "The distance from the lines of a lot to the foot or the top of each slope on it.",
        dimension: Some(Dimension::Length),
        parameters: &[EDGE.info(), STEEPER_THAN, GRADE.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (edge, steep) = (EDGE.read(ground)?, steeper_than(ground)?);
        let lines = ground.group("lines");
        let owners = ground.lot_of(&lines);
        let on = on_ground(ground)?;
        let found = on_lots(ground, on.grade, &on.subjects, steep);
        let mut readings = on.readings;
        readings.extend(found.readings);
        for (subject, lot) in found.subjects {
            let before = readings.len();
            let own: Vec<Feature> = lines
                .iter()
                .zip(&owners)
                .filter(|(_, owner)| **owner == Some(lot))
                .map(|(line, _)| *line)
                .collect();
            for face in found.faces.get(&lot).into_iter().flatten() {
                for &line in &own {
                    let mut both = ground.between(&[(line, face.toe), (line, face.crest)]).into_iter();
                    let (Some(toe), Some(crest)) = (both.next(), both.next()) else { continue };
                    let far = |amount: &G::Amount| known(ground, amount).unwrap_or(f64::INFINITY);
                    let rises = far(&toe) <= far(&crest);
                    if rises != (edge == Edge::Toe) {
                        continue;
                    }
                    let facts = ground.scale(&[(&face.height, 1.0), (&face.slope, 1.0)]);
                    if let Ok([height, slope]) = <[G::Amount; 2]>::try_from(facts) {
                        let reading = Reading::amount(subject, if rises { toe } else { crest }).to(line);
                        readings.push(reading.shown("face_height", height).shown("face_slope", slope));
                    }
                }
            }
            if readings.len() == before {
                readings.push(Reading::not_applicable(subject, "no slope has that edge toward such a line"));
            }
        }
        Ok(readings)
    }
}
