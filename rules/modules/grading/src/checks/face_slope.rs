use groundrule_kit::{Check, Dimension, Face, Feature, Ground, Info, Length, Reading, Refusal};

use crate::amounts::known;
use crate::faces::on_lots;
use crate::parameters::{STEEPER_THAN, steeper_than};
use crate::surface::{GRADE, on_ground};

/// Face slope: how steep each slope on a lot is.
///
/// # What it measures
/// A face is ground steeper than `steeper_than` in one piece. Of each face on the subject's lot, its steepest slope. A
/// face that lies along one of the group `walls`, foot and top within two feet of it, is the wall itself and left out.
///
/// # Why
/// Earth stands at a slope of its own; steeper, it slides or washes down until it has found it. Above about one in three
/// it wants plants that hold it, above one in two a wall.
///
/// # Parameters
/// - `steeper_than`: the slope from which on ground is a face. Needed.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A slope for each face, with the fact `face_height`. Not applicable when no ground of the lot is as steep. Lacking
/// where the plan has no levels of that ground.
///
/// # Cautions
/// A bank is as steep as the levels at its foot and top make it. What the soil can bear is for an engineer.
pub struct FaceSlope;

/// A face no farther from a wall than this lies along it: two feet.
const ALONG: Length = Length::from_feet(2.0);

impl Check for FaceSlope {
    const INFO: Info = Info {
        name: "face-slope",
        summary: "The steepest slope of each face of the ground on the subject's lot.",
        dimension: Some(Dimension::Ratio),
        parameters: &[STEEPER_THAN, GRADE.info()],
        groups: &["walls"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let steep = steeper_than(ground)?;
        let walls = ground.group("walls");
        let on = on_ground(ground)?;
        let found = on_lots(ground, on.grade, &on.subjects, steep);
        let mut readings = on.readings;
        readings.extend(found.readings);
        for (subject, lot) in found.subjects {
            let before = readings.len();
            let faces = found.faces.get(&lot).into_iter().flatten();
            for face in faces.filter(|face| !is_wall(ground, face, &walls)) {
                let facts = ground.scale(&[(&face.slope, 1.0), (&face.height, 1.0)]);
                if let Ok([slope, height]) = <[G::Amount; 2]>::try_from(facts) {
                    readings.push(Reading::amount(subject, slope).shown("face_height", height));
                }
            }
            if readings.len() == before {
                readings.push(Reading::not_applicable(subject, "all that is as steep on its lot is walls"));
            }
        }
        Ok(readings)
    }
}

fn is_wall<G: Ground>(ground: &G, face: &Face<G::Amount>, walls: &[Feature]) -> bool {
    let along = |wall: &Feature| {
        let both = ground.between(&[(*wall, face.toe), (*wall, face.crest)]);
        both.iter().all(|gap| known(ground, gap).is_some_and(|gap| gap <= ALONG.metres()))
    };
    walls.iter().any(along)
}
