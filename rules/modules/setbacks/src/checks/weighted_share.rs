use groundrule_kit::{Check, Dimension, Ground, Info, Need, ParameterInfo, Reading, Refusal, Value};

use crate::lots::{only_ground, touching};

/// Weighted share: how much of a lot is covered, where some surfaces count in part.
///
/// # What it measures
/// The area that the group `covering` covers within the subject, plus `weight` times what the group `weighted`
/// covers beside it, over the area of the subject, a lot or another area. A place that both cover counts in full,
/// and once.
///
/// # Why
/// Codes differ on whether the water of a pool, gravel or open joints count as hard ground, and some count them
/// in part. The verdict often hangs on that definition and on nothing else.
///
/// # Parameters
/// - `weight`: how much of the weighted surfaces counts, a share from `0 %` to `100 %`. Needed.
///
/// # Answers
/// A ratio for each subject, with the facts `covered_area`, `weighted_area` (before it is weighted), `lot_area`, and the
/// share by either definition: `share_without` the weighted surfaces and `share_with` all of them.
/// Lacking when the subject, or anything of the groups on it, is stated but not drawn.
///
/// # Cautions
/// Read the definition in the local text before choosing the weight; print both figures where it is not clear.
pub struct WeightedShare;

const WEIGHT: ParameterInfo = ParameterInfo {
    name: "weight",
    summary: "How much of the group `weighted` counts, a share from 0 % to 100 %; needed.",
};

impl Check for WeightedShare {
    const INFO: Info = Info {
        name: "weighted-share",
        summary: "The share of each lot that is covered, where some surfaces count in part.",
        dimension: Some(Dimension::Ratio),
        parameters: &[WEIGHT],
        groups: &["covering", "weighted"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let weight = weight(ground)?;
        let lots = ground.subjects();
        only_ground(ground, Self::INFO.name, &lots)?;
        let full = touching(ground, &lots, &ground.group("covering"));
        let part = touching(ground, &lots, &ground.group("weighted"));
        let whole = ground.area(&lots);
        let labels = ground.labels(&lots);
        let mut readings = Vec::with_capacity(lots.len());
        for ((lot, whole), label) in lots.into_iter().zip(whole).zip(labels) {
            let in_full = full.get(&lot).map_or(&[][..], Vec::as_slice);
            let mut both = in_full.to_vec();
            both.extend(part.get(&lot).into_iter().flatten().copied());
            both.sort_unstable();
            both.dedup();
            let covered = ground.covered(in_full, Some(lot));
            let either = ground.covered(&both, Some(lot));
            let beside = ground.subtract(&[(&either, &covered)]).pop();
            let counted = beside.as_ref().and_then(|beside| ground.scale(&[(beside, weight)]).pop());
            let sum = counted.as_ref().and_then(|counted| ground.sum(&[&covered, counted]));
            let share = sum.as_ref().and_then(|sum| ground.ratio(&[(sum, &whole)]).pop().flatten());
            let without = ground.ratio(&[(&covered, &whole)]).pop().flatten();
            let with = ground.ratio(&[(&either, &whole)]).pop().flatten();
            let both = without.into_iter().map(|it| ("share_without", it));
            let both = both.chain(with.into_iter().map(|it| ("share_with", it)));
            readings.push(match (share, beside) {
                (Some(share), Some(beside)) => {
                    let reading = Reading::amount(lot, share)
                        .shown("covered_area", covered)
                        .shown("weighted_area", beside)
                        .shown("lot_area", whole);
                    both.fold(reading, |reading, (name, share)| reading.shown(name, share))
                }
                _ => Reading::lacking(
                    lot,
                    Need::new(format!("area of {label}"), "draw it by its corners, as its survey gives them"),
                ),
            });
        }
        Ok(readings)
    }
}

fn weight<G: Ground>(ground: &G) -> Result<f64, Refusal> {
    let given = match ground.parameter(WEIGHT.name) {
        Some(Value::Quantity(quantity)) if quantity.dimension() == Dimension::Ratio => {
            let share = quantity.si();
            if (0.0..=1.0).contains(&share) {
                return Ok(share);
            }
            "a share outside of 0 % to 100 %"
        }
        Some(other) => other.sort(),
        None => "not given",
    };
    Err(Refusal::new(format!("parameter `weight` is {given}; give a share, such as \"50 %\"")))
}
