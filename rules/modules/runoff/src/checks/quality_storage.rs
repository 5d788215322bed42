use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Need, ParameterInfo, Reading, Refusal};

use crate::ground::{area, on, only_ground};
use crate::one::{Asking, one, stated, times};

/// Quality storage: how much of the first rain a piece of ground keeps.
///
/// # What it measures
/// The water that the group `practices` on the subject holds: of each, its area times its `ponding_depth`, or times its
/// `depth` and its `void_share`. Beside it, what is to be kept: `P Rv A` with `Rv = 0.05 + 0.9 I`, where `I` is the
/// `hard_share` that the subject states, or the share that the group `hard` covers. Where `I` is under 15 % it is 0.2 in
/// of water over the subject at least.
///
/// # Why
/// The first of the rain carries most of the dirt. What soaks away on the spot never reaches the stream.
///
/// # Parameters
/// - `rain`: the rain to be kept. Needed.
///
/// # Answers
/// A volume for each subject, with the facts `quality_volume`, `hard_share` and `drained_area`. Lacking when a practice
/// does not say how deep water stands in it.
///
/// # Cautions
/// Only what flows to a practice is kept there. A licensed engineer answers for the design.
pub struct QualityStorage;

const RAIN: ParameterInfo = ParameterInfo { name: "rain", summary: "The rain to be kept; needed." };

impl Check for QualityStorage {
    const INFO: Info = Info {
        name: "quality-storage",
        summary: "How much of the first rain each piece of ground keeps.",
        dimension: Some(Dimension::Volume),
        parameters: &[RAIN],
        groups: &["hard", "practices"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let Some(rain) = ground.parameter_amount(RAIN.name) else {
            return Err(Refusal::new(
                "parameter `rain` is not given; give a depth of rain, such as \"1 in\"",
            ));
        };
        let subjects = ground.subjects();
        only_ground(ground, &subjects)?;
        let (practices, hard) = (ground.group("practices"), ground.group("hard"));
        Ok(subjects.into_iter().map(|subject| kept(ground, subject, &practices, &hard, &rain)).collect())
    }
}

fn kept<G: Ground>(
    ground: &G,
    subject: Feature,
    practices: &[Feature],
    hard: &[Feature],
    rain: &G::Amount,
) -> Reading<G::Amount> {
    let mut asking = Asking::of(ground, subject);
    let mut held = Vec::new();
    for practice in on(ground, subject, practices) {
        let of = Asking::of(ground, practice);
        match holds(ground, practice) {
            Some(volume) => held.push(volume),
            None => asking.needs.push(Need::new(
                format!("depth of water in {}", of.label),
                "state its `ponding_depth`, or of a pit its `depth` and `void_share`",
            )),
        }
    }
    let whole = area(ground, subject);
    let share = stated(ground, subject, "hard_share").or_else(|| {
        let covered = ground.covered(&on(ground, subject, hard), Some(subject));
        one(ground.ratio(&[(&covered, whole.as_ref()?)]))
    });
    let found = whole.zip(share).filter(|_| asking.needs.is_empty()).and_then(|(whole, share)| {
        let wanted = one(ground.quality_volume(&[(&whole, rain, &share)]))?;
        let none = || ground.subtract(&[(&wanted, &wanted)]).pop();
        let held = ground.sum(&held.iter().collect::<Vec<_>>()).or_else(none)?;
        Some(
            Reading::amount(subject, held)
                .shown("quality_volume", wanted)
                .shown("hard_share", share)
                .shown("drained_area", whole),
        )
    });
    found.unwrap_or_else(|| asking.lacking(("area", "draw it by its corners")))
}

/// The water that a practice holds.
fn holds<G: Ground>(ground: &G, practice: Feature) -> Option<G::Amount> {
    let area = area(ground, practice)?;
    if let Some(depth) = stated(ground, practice, "ponding_depth") {
        return times(ground, &area, &depth);
    }
    let (depth, voids) = (stated(ground, practice, "depth")?, stated(ground, practice, "void_share")?);
    times(ground, &times(ground, &area, &depth)?, &voids)
}
