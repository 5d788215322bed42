use std::collections::BTreeSet;

use groundrule_kit::{
    Answer, Check, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal, drawn_subjects,
};

use crate::amounts::{known, label, plus};
use crate::parameters::needed;
use crate::walls::{Height, MEASURE, foot, height};

/// Wall tiers: how high two walls are together that stand one above the other.
///
/// # What it measures
/// For each two subjects no farther apart than `reach`, their heights together. The lower is the one with the lower foot.
///
/// # Why
/// An upper wall stands on the earth that the lower one holds and pushes it out. Set back far enough, by about twice the
/// height of the lower, it stands on ground of its own; nearer, both work as one tall wall.
///
/// # Parameters
/// - `reach`: how far apart two walls may be to be looked at, well above any distance that is asked for. Needed.
/// - `measure`: the height of each: `exposed`, `retained` or `from-footing`. Without it, `exposed`.
///
/// # Answers
/// A length for the lower wall of each two, with the facts `gap` (the clear distance between them), `lower_height` and
/// `upper_height`. Not applicable to a wall that is the lower of none. Lacking where a height or the levels of a foot are
/// not stated.
///
/// # Cautions
/// Two walls that face each other across a sunken court are taken for tiers as well.
pub struct WallTiers;

const REACH: LengthParameter =
    LengthParameter::new("reach", "How far apart two walls may be to be looked at together; needed.");

impl Check for WallTiers {
    const INFO: Info = Info {
        name: "wall-tiers",
        summary: "The height together of two walls that stand one above the other.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info(), MEASURE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (reach, measure) = (needed(ground, &REACH)?, MEASURE.read(ground)?);
        let (walls, mut readings) = drawn_subjects(ground);
        let pairs: Vec<(Feature, Feature)> =
            ground.near(&walls, &walls, reach).into_iter().filter(|(a, b)| a < b).collect();
        let gaps = ground.between(&pairs);
        let mut told = BTreeSet::new();
        for ((a, b), gap) in pairs.into_iter().zip(gaps) {
            let (lower, upper, answer) = match (base(ground, a), base(ground, b)) {
                (Ok(low), Ok(high)) if high < low => (b, a, tiers(ground, b, a, measure)),
                (Ok(_), Ok(_)) => (a, b, tiers(ground, a, b, measure)),
                (low, high) => (a, b, Err([low.err(), high.err()].into_iter().flatten().collect())),
            };
            told.insert(lower);
            let reading = match answer {
                Ok(Tiers { together, below, above }) => {
                    Reading::amount(lower, together).shown("lower_height", below).shown("upper_height", above)
                }
                Err(needs) => Reading::new(lower, Answer::Lacking(needs)),
            };
            readings.push(reading.to(upper).shown("gap", gap));
        }
        let alone = walls.iter().filter(|wall| !told.contains(wall));
        readings
            .extend(alone.map(|&wall| Reading::not_applicable(wall, "no wall stands above it within reach")));
        Ok(readings)
    }
}

struct Tiers<A> {
    together: A,
    below: A,
    above: A,
}

fn tiers<G: Ground>(
    ground: &G,
    lower: Feature,
    upper: Feature,
    measure: Height,
) -> Result<Tiers<G::Amount>, Vec<Need>> {
    match (height(ground, lower, measure), height(ground, upper, measure)) {
        (Ok(below), Ok(above)) => {
            let together = plus(ground, &below, &above).ok_or_else(Vec::new)?;
            Ok(Tiers { together, below, above })
        }
        (below, above) => Err([below.err(), above.err()].into_iter().flatten().flatten().collect()),
    }
}

/// The level of the foot of a wall, to tell the lower of two.
fn base<G: Ground>(ground: &G, wall: Feature) -> Result<f64, Need> {
    foot(ground, wall).and_then(|level| known(ground, &level)).ok_or_else(|| {
        let what = format!("bottom levels of {}", label(ground, wall));
        Need::new(what, "state the levels of the ground on its low side as `bottom_levels`, to tell the lower wall from the upper")
    })
}
