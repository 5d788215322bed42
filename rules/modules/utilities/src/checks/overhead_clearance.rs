use groundrule_kit::{
    Answer, Check, Choice, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal,
};

use crate::near::{known, near};
use crate::stated::{HUNG, stated};

/// Overhead clearance: how far wires stay from what stands, is swum in or grows below them.
///
/// # What it measures
/// Between the subject and each of the group `wires`, as `measure` says: across, on the plan; over, from the
/// subject's top up to the wire; or straight, along the slanted line from the subject's nearest edge and top to the
/// wire. The top is the subject's `height`, for a tree its `mature_height`, for water the ground; the wire hangs at
/// its `ground_clearance`. The slant is added up from its two sides by the host, so their errors reach it.
///
/// # Why
/// A wire overhead is mostly bare, and kills whoever touches it with a ladder, a pool pole or a wet branch.
///
/// # Parameters
/// - `measure`: `across`, `over` or `straight`. Without it, `across`.
/// - `from`: `outline` as drawn, or `crown`, which takes half the stated `mature_spread` off a distance across.
///   Without it, `outline`.
/// - `reach`: wires no farther away on the plan are measured to: the band that a text holds for, or a length well
///   above the limit. Without it, all.
///
/// # Answers
/// A length for each subject and wire, with the fact `wire` (what to call it) and, where heights enter, `across` and
/// `over`. Not applicable when no wire is within reach. Lacking when a height or the grown spread is asked for and
/// not stated, or one of the two is stated but not drawn.
///
/// # Cautions
/// Wires sag in heat and swing in wind; take the lowest place. Ground is taken as level between the two. Only
/// the owner of the wire says what its voltage asks for, and only its crew works near it.
pub struct OverheadClearance;

#[derive(Clone, Copy, PartialEq)]
enum Measure {
    Across,
    Over,
    Straight,
}

#[derive(Clone, Copy, PartialEq)]
enum From {
    Outline,
    Crown,
}

const MEASURE: Choice<Measure> = Choice::new(
    "measure",
    "How the clearance runs: `across`, `over` or `straight`; `across` when not given.",
    &[("across", Measure::Across), ("over", Measure::Over), ("straight", Measure::Straight)],
    Measure::Across,
);
const FROM: Choice<From> = Choice::new(
    "from",
    "The edge measured from: `outline`, or `crown`, the grown one; `outline` when not given.",
    &[("outline", From::Outline), ("crown", From::Crown)],
    From::Outline,
);
const REACH: LengthParameter =
    LengthParameter::new("reach", "How far to look for wires; all are measured to when not given.");

impl Check for OverheadClearance {
    const INFO: Info = Info {
        name: "overhead-clearance",
        summary: "The distance from each subject to wires overhead: across, over or straight.",
        dimension: Some(Dimension::Length),
        parameters: &[MEASURE.info(), FROM.info(), REACH.info()],
        groups: &["wires"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (measure, from) = (MEASURE.read(ground)?, FROM.read(ground)?);
        let near = near(ground, &ground.group("wires"), REACH.read(ground)?);
        let mut readings = near.without_pair(ground, "no wire is within reach");
        let (subjects, wires) = (near.subjects(), near.others());
        let crowns = match from {
            From::Outline => subjects.iter().map(|_| Ok(None)).collect(),
            From::Crown => half_crowns(ground, &subjects),
        };
        let rises: Vec<Result<Option<G::Amount>, Vec<Need>>> = match measure {
            Measure::Across => subjects.iter().map(|_| Ok(None)).collect(),
            Measure::Over | Measure::Straight => rises(ground, &subjects, &wires),
        };
        let across = ground.clearance(&near.pairs);
        let labels = ground.labels(&wires);
        let all = near.pairs.iter().zip(across).zip(crowns.into_iter().zip(rises)).zip(labels);
        readings.extend(all.map(|((((subject, wire), across), (crown, rise)), label)| {
            let reading = match (crown, rise) {
                (Ok(crown), Ok(rise)) => {
                    let terms: Vec<(&G::Amount, &G::Amount)> =
                        crown.iter().map(|crown| (&across, crown)).collect();
                    let across = ground.subtract(&terms).pop().unwrap_or(across);
                    told(ground, *subject, measure, across, rise)
                }
                (crown, rise) => {
                    let needs = crown.err().into_iter().chain(rise.err().into_iter().flatten()).collect();
                    Reading::new(*subject, Answer::Lacking(needs))
                }
            };
            reading.to(*wire).text("wire", label)
        }));
        Ok(readings)
    }
}

/// Half the grown spread of each plant.
fn half_crowns<G: Ground>(ground: &G, subjects: &[Feature]) -> Vec<Result<Option<G::Amount>, Need>> {
    let how = "state how wide it grows as `mature_spread`";
    let spreads = stated(ground, subjects, "mature_spread", how).into_iter();
    spreads.map(|spread| spread.map(|spread| ground.scale(&[(&spread, 0.5)]).pop())).collect()
}

/// How far each wire hangs above the top of its subject, or everything that is lacking for it.
fn rises<G: Ground>(
    ground: &G,
    subjects: &[Feature],
    wires: &[Feature],
) -> Vec<Result<Option<G::Amount>, Vec<Need>>> {
    let heights = stated(ground, subjects, "height", "state the `height` of its top over the ground");
    let grown = stated(ground, subjects, "mature_height", "state how tall it grows as `mature_height`");
    let hung = stated(ground, wires, "ground_clearance", HUNG);
    let plants = ground.is_a(subjects, "planting").into_iter().zip(ground.is_a(subjects, "water"));
    let tops = heights.into_iter().zip(grown).zip(plants);
    tops.zip(hung)
        .map(|(((height, grown), (plant, water)), hung)| {
            let top = match (plant, water) {
                (_, true) => Ok(None),
                (true, false) => grown.map(Some),
                (false, false) => height.map(Some),
            };
            match (top, hung) {
                (Ok(None), Ok(hung)) => Ok(Some(hung)),
                (Ok(Some(top)), Ok(hung)) => Ok(ground.subtract(&[(&hung, &top)]).pop()),
                (top, hung) => Err(top.err().into_iter().chain(hung.err()).collect()),
            }
        })
        .collect()
}

fn told<G: Ground>(
    ground: &G,
    subject: Feature,
    measure: Measure,
    across: G::Amount,
    rise: Option<G::Amount>,
) -> Reading<G::Amount> {
    let Some(over) = rise else { return Reading::amount(subject, across) };
    let amount = match measure {
        Measure::Straight => slant(ground, &across, &over),
        Measure::Over | Measure::Across => ground.scale(&[(&over, 1.0)]).pop(),
    };
    match amount {
        Some(amount) => Reading::amount(subject, amount).shown("across", across).shown("over", over),
        None => Reading::amount(subject, across),
    }
}

/// The slanted distance of two sides at a right angle. Turned onto its own direction it is their sum, each times the
/// cosine of its angle to it: the same value, and the same first order of their errors, as the root of the squares.
fn slant<G: Ground>(ground: &G, across: &G::Amount, over: &G::Amount) -> Option<G::Amount> {
    let sides = ground.scale(&[(across, 1.0), (over, 1.0)]);
    let values = known(ground, &sides);
    let side = |at: usize| values.get(at).copied().flatten().unwrap_or(0.0).max(0.0);
    let (x, y) = (side(0), side(1));
    let length = (x * x + y * y).sqrt();
    // Without an outline the amount lacks whatever it is turned by; at the wire itself there is nothing to turn.
    let (cos, sin) = if length > 0.0 { (x / length, y / length) } else { (1.0, 1.0) };
    let turned = ground.scale(&[(across, cos), (over, sin)]);
    ground.sum(&turned.iter().collect::<Vec<_>>())
}
