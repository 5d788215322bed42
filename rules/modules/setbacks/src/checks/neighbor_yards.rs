use std::collections::BTreeMap;

use groundrule_kit::{Check, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal};

use crate::lines::{known, lines, pairs};

/// Yards of the neighbors: the yard of a building, with the mean of what its neighbors keep.
///
/// # What it measures
/// The distance from the subject to each line of the group `lines` of its own lot, and beside it the mean over the other
/// lots that have a line of the group: what the nearest of the group `neighbors` on each keeps to its line, a vacant
/// lot counting as `vacant`, and a yard above `most` or below `least` counting as `instead`.
///
/// # Why
/// On a built-up street the houses already there set the building line better than a figure in a table does.
///
/// # Parameters
/// - `vacant`: what a lot without a building counts as. Without it, such a lot does not count.
/// - `most` and `least`: a yard beyond these does not count as it is but as `instead`. Without them, each counts as it
///   is.
/// - `instead`: what such a yard counts as. Without it, it does not count.
///
/// # Answers
/// A length for each subject and line, with the facts `neighbors_mean`, `neighbors_counted` and `line`. Lacking when no
/// other lot counts: the yards of the neighbors are not on the plan.
///
/// # Cautions
/// Codes differ on who counts: the block, so many feet along the street, only adjoining lots. Draw those and no others.
pub struct NeighborYards;

const VACANT: LengthParameter =
    LengthParameter::new("vacant", "What a vacant lot counts as; left out when not given.");
const MOST: LengthParameter =
    LengthParameter::new("most", "A greater yard counts as `instead`; no bound when not given.");
const LEAST: LengthParameter =
    LengthParameter::new("least", "A lesser yard counts as `instead`; no bound when not given.");
const INSTEAD: LengthParameter =
    LengthParameter::new("instead", "What a yard beyond the bounds counts as; left out when not given.");

impl Check for NeighborYards {
    const INFO: Info = Info {
        name: "neighbor-yards",
        summary: "The yard of each subject, with the mean of the yards its neighbors keep.",
        dimension: Some(Dimension::Length),
        parameters: &[VACANT.info(), MOST.info(), LEAST.info(), INSTEAD.info()],
        groups: &["lines", "neighbors"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (most, least) = (MOST.read(ground)?, LEAST.read(ground)?);
        VACANT.read(ground)?;
        INSTEAD.read(ground)?;
        let beyond = |yard: f64| {
            most.is_some_and(|most| yard > most.metres()) || least.is_some_and(|least| yard < least.metres())
        };
        let counted: BTreeMap<Feature, G::Amount> = by_lot_line(ground)
            .into_iter()
            .filter_map(|(lot, kept)| {
                let counts = match kept {
                    None => ground.parameter_amount("vacant"),
                    Some((_, Some(value))) if beyond(value) => ground.parameter_amount("instead"),
                    Some((yard, _)) => Some(yard),
                };
                Some((lot, counts?))
            })
            .collect();
        // Of thousands of lots the sum is made once, and each leaves itself out of it.
        let total = ground.sum(&counted.values().collect::<Vec<_>>());
        let lines = lines(ground);
        let mut readings = lines.answered;
        for on in &lines.known {
            let itself = on.lot.and_then(|lot| counted.get(&lot));
            let number = u32::try_from(counted.len() - usize::from(itself.is_some())).unwrap_or(u32::MAX);
            let mean = total.as_ref().and_then(|total| mean_without(ground, total, itself, number));
            let own = pairs(std::slice::from_ref(on));
            let labels = ground.labels(&on.others);
            for (((subject, line), yard), label) in own.iter().copied().zip(ground.yard(&own)).zip(labels) {
                let mean = mean.as_ref().and_then(|mean| ground.scale(&[(mean, 1.0)]).pop());
                readings.push(match mean {
                    Some(mean) => Reading::amount(subject, yard)
                        .to(line)
                        .text("line", label)
                        .shown("neighbors_mean", mean)
                        .counted("neighbors_counted", number),
                    None => Reading::lacking(subject, nobody(&label)).to(line),
                });
            }
        }
        Ok(readings)
    }
}

/// The least yard kept on a lot, and its best value; none where nothing of the group stands.
type Kept<A> = Option<(A, Option<f64>)>;

/// What the nearest building keeps on every lot that has a line of the group.
fn by_lot_line<G: Ground>(ground: &G) -> BTreeMap<Feature, Kept<G::Amount>> {
    let lines = ground.group("lines");
    let neighbors = ground.group("neighbors");
    let mut on: BTreeMap<Feature, (Vec<Feature>, Vec<Feature>)> = BTreeMap::new();
    for (&line, lot) in lines.iter().zip(ground.lot_of(&lines)) {
        if let Some(lot) = lot {
            on.entry(lot).or_default().0.push(line);
        }
    }
    for (&neighbor, lot) in neighbors.iter().zip(ground.lot_of(&neighbors)) {
        if let Some(there) = lot.and_then(|lot| on.get_mut(&lot)) {
            there.1.push(neighbor);
        }
    }
    let kept = |(lot, (lines, buildings)): (Feature, (Vec<Feature>, Vec<Feature>))| {
        let pairs: Vec<(Feature, Feature)> =
            buildings.iter().flat_map(|&building| lines.iter().map(move |&line| (building, line))).collect();
        let yards = ground.yard(&pairs);
        let value = known(ground, &yards).into_iter().reduce(|a, b| Some(a?.min(b?))).flatten();
        let least = ground.least(&yards.iter().collect::<Vec<_>>());
        (lot, least.map(|least| (least, value)))
    };
    on.into_iter().map(kept).collect()
}

/// The mean of so many, out of the sum of them and one more.
fn mean_without<G: Ground>(
    ground: &G,
    total: &G::Amount,
    itself: Option<&G::Amount>,
    number: u32,
) -> Option<G::Amount> {
    let share = (number > 0).then(|| 1.0 / f64::from(number))?;
    match itself {
        Some(itself) => {
            let others = ground.subtract(&[(total, itself)]).pop()?;
            ground.scale(&[(&others, share)]).pop()
        }
        None => ground.scale(&[(total, share)]).pop(),
    }
}

fn nobody(line: &str) -> Need {
    Need::new(
        format!("yards that the neighbors of {line} keep"),
        "draw the neighboring lots that count, each with its building and its front line, even roughly",
    )
}
