use groundrule_kit::{Answer, Check, Dimension, Ground, Info, Reading, Refusal};

use crate::walls::{Height, MEASURE, height};

/// Wall height: how high each wall is where it is highest.
///
/// # What it measures
/// By the levels stated along the wall: from the ground on its low side to its top (`exposed`), to the ground on its high
/// side (`retained`), or from the underside of its footing to its top (`from-footing`). The greatest of all vertices or
/// stations. Without levels, the exposed height is the stated `height`, and what it retains the stated `ground_step`.
///
/// # Why
/// A wall that holds earth is pushed by it, and the push grows with the square of the height. Above a few feet it
/// needs a design, and usually a permit, which most texts count from the underside of the footing.
///
/// # Parameters
/// - `measure`: `exposed`, `retained` or `from-footing`. Without it, `exposed`.
///
/// # Answers
/// A length for each subject. Lacking where its levels are not stated, or for `from-footing` its `footing_depth`. But for
/// `exposed`, not applicable to a wall whose `height_side` says that both sides are level. A stated `height` that is
/// counted from the high side takes the `ground_step` as well.
///
/// # Cautions
/// A wall is as high as somebody says it is; between two stations it may be higher.
pub struct WallHeight;

impl Check for WallHeight {
    const INFO: Info = Info {
        name: "wall-height",
        summary: "The height of each wall where it is greatest.",
        dimension: Some(Dimension::Length),
        parameters: &[MEASURE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let measure = MEASURE.read(ground)?;
        let subjects = ground.subjects();
        let sides = ground.texts(&subjects, "height_side");
        let all = subjects.into_iter().zip(sides).map(|(wall, side)| {
            if measure != Height::Exposed && side.as_deref() == Some("level") {
                return Reading::not_applicable(wall, "the ground is level on both sides of it");
            }
            match height(ground, wall, measure) {
                Ok(height) => Reading::amount(wall, height),
                Err(needs) => Reading::new(wall, Answer::Lacking(needs)),
            }
        });
        Ok(all.collect())
    }
}
