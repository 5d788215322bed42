use groundrule_kit::{
    Answer, Check, Dimension, Feature, Figure, Ground, Info, LengthParameter, Reading, Refusal,
    drawn_subjects, in_no_pair,
};

use crate::amounts::known;
use crate::parameters::needed;
use crate::surface::GRADE;
use crate::walls::{MEASURE, foot, height, side};

/// Surcharge: how far what loads the ground stands from each wall that holds it.
///
/// # What it measures
/// The clear distance from the subject, a wall, to each of the group `loads` no farther off than `reach`.
///
/// # Why
/// A car, a shed or a pool near the top of a wall presses on the earth behind it, and through that on the wall. Beyond
/// about twice the height of the wall its weight goes down into the ground below.
///
/// # Parameters
/// - `reach`: how far to look for loads, well above any distance that is asked for. Needed.
/// - `measure`: the height of the wall: `exposed`, `retained` or `from-footing`. Without it, `exposed`.
/// - `grade`: the ground by which a load stands above the wall, both at their mean level, `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A length for each wall and load, with the facts `wall_height` and `above` (whether the load stands higher than the
/// foot of the wall; yes where no levels tell). Not applicable when no load is within reach. Lacking where the height of
/// the wall is not stated.
///
/// # Cautions
/// How heavy a load is does not enter. A wall designed for its load may have it nearer.
pub struct Surcharge;

const REACH: LengthParameter = LengthParameter::new("reach", "How far to look for loads; needed.");

impl Check for Surcharge {
    const INFO: Info = Info {
        name: "surcharge",
        summary: "The distance from each wall to what loads the ground behind it.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info(), MEASURE.info(), GRADE.info()],
        groups: &["loads"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (reach, measure, grade) = (needed(ground, &REACH)?, MEASURE.read(ground)?, GRADE.read(ground)?);
        let (walls, mut readings) = drawn_subjects(ground);
        let pairs = ground.near(&walls, &ground.group("loads"), reach);
        let alone = in_no_pair(&walls, &pairs).into_iter();
        readings
            .extend(alone.map(|wall| Reading::not_applicable(wall, "nothing that loads it is within reach")));
        let loads: Vec<Feature> = pairs.iter().map(|pair| pair.1).collect();
        let levels: Vec<Option<f64>> = if ground.known(grade) {
            ground.level(grade, &loads, Figure::Mean).iter().map(|level| known(ground, level)).collect()
        } else {
            vec![None; loads.len()]
        };
        let gaps = ground.between(&pairs);
        for (((wall, load), gap), level) in pairs.into_iter().zip(gaps).zip(levels) {
            let base = foot(ground, wall).and_then(|foot| known(ground, &foot));
            let above = level.zip(base).is_none_or(|(level, base)| level > base + LEVEL_WITH_FOOT);
            if side(ground, wall).as_deref() == Some("level") {
                readings
                    .push(Reading::not_applicable(wall, "the ground is level on both sides of it").to(load));
                continue;
            }
            readings.push(match height(ground, wall, measure) {
                Ok(height) => {
                    Reading::amount(wall, gap).to(load).shown("wall_height", height).flag("above", above)
                }
                Err(needs) => Reading::new(wall, Answer::Lacking(needs)).to(load).flag("above", above),
            });
        }
        Ok(readings)
    }
}

/// What stands no more than this over the foot of a wall, in metres, stands before it: half a foot.
const LEVEL_WITH_FOOT: f64 = 0.1524;
