use std::collections::{BTreeMap, BTreeSet};

use groundrule_kit::{
    Check, Choice, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal, by_lot,
    drawn_or_not, drawn_subjects, on_one_lot,
};

/// Separation: how far each subject stays from others on the same lot.
///
/// # What it measures
/// The gap between the subject and each of the group `others` that stands on the same lot; negative by the depth
/// of penetration where they overlap. Where both are subjects and both are in the group, the pair is measured
/// once, from the one that comes first in the plan.
///
/// # Why
/// A gap between buildings slows fire, keeps light and air at windows, and leaves room to walk through and to
/// repair what faces it.
///
/// # Parameters
/// - `reach`: how far to look, a length well above the limit. Without it, everything of the group on the lot is
///   measured.
/// - `which`: `all` measures to each of them, `nearest` only to the nearest. Without it, `all`.
///
/// # Answers
/// A length for each pair, with the fact `other` (what to call the other). Not applicable when nothing of the
/// group is within reach on the lot, or when each such gap is already measured from the other. Lacking when the
/// subject has no lot, or when one of the two is stated but not drawn.
///
/// # Cautions
/// The gap is measured between outlines as drawn; where eaves overhang, the roofs are nearer. A gap of nothing
/// usually means an attached part, for which other rules hold.
pub struct Separation;

#[derive(Clone, Copy, PartialEq)]
enum Which {
    All,
    Nearest,
}

const REACH: LengthParameter =
    LengthParameter::new("reach", "How far to look for others; the whole lot when not given.");

const WHICH: Choice<Which> = Choice::new(
    "which",
    "Measure to `all` of them or only to the `nearest`; `all` when not given.",
    &[("all", Which::All), ("nearest", Which::Nearest)],
    Which::All,
);

impl Check for Separation {
    const INFO: Info = Info {
        name: "separation",
        summary: "The gap between each subject and others on the same lot.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info(), WHICH.info()],
        groups: &["others"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let reach = REACH.read(ground)?;
        let which = WHICH.read(ground)?;
        let others = ground.group("others");
        let (subjects, mut readings) = drawn_subjects(ground);

        let pairs = match reach {
            None => by_lot(ground, &subjects, &others)
                .into_iter()
                .flat_map(|on| on.others.into_iter().map(move |other| (on.subject, other)))
                .collect(),
            Some(reach) => {
                let mut near = ground.near(&subjects, &others, reach);
                let (_, unseen) = drawn_or_not(ground, &others);
                near.extend(
                    subjects.iter().flat_map(|&subject| unseen.iter().map(move |&other| (subject, other))),
                );
                near.sort_unstable();
                on_one_lot(ground, near)
            }
        };
        let clearances = ground.clearance(&pairs);
        let mut gaps: Vec<Gap<G::Amount>> = pairs.into_iter().zip(clearances).collect();
        if which == Which::Nearest {
            gaps = nearest(ground, gaps);
        }
        let asked: BTreeSet<Feature> = gaps.iter().map(|((subject, _), _)| *subject).collect();
        let gaps = each_once(gaps);
        let told: BTreeSet<Feature> = gaps.iter().map(|((subject, _), _)| *subject).collect();

        let silent: Vec<Feature> = subjects.into_iter().filter(|subject| !told.contains(subject)).collect();
        for (&subject, lot) in silent.iter().zip(ground.lot_of(&silent)) {
            readings.push(without_gap(ground, subject, lot, asked.contains(&subject)));
        }
        let names: Vec<Feature> = gaps.iter().map(|((_, other), _)| *other).collect();
        let labels = ground.labels(&names);
        readings.extend(gaps.into_iter().zip(labels).map(|(((subject, other), gap), label)| {
            Reading::amount(subject, gap).to(other).text("other", label)
        }));
        Ok(readings)
    }
}

/// A subject, another, and what is between them.
type Gap<A> = ((Feature, Feature), A);

/// The answer for a subject of which no gap is told.
fn without_gap<G: Ground>(
    ground: &G,
    subject: Feature,
    lot: Option<Feature>,
    asked: bool,
) -> Reading<G::Amount> {
    if lot.is_none() {
        return Reading::lacking(
            subject,
            Need::new(
                format!("lot of {}", ground.labels(&[subject]).concat()),
                "draw the lot around it, or name it with `lot`, so that it is known what else stands there",
            ),
        );
    }
    let why = if asked {
        "each gap is measured from the other, which comes first in the plan"
    } else {
        "nothing to be kept apart from is within reach on its lot"
    };
    Reading::not_applicable(subject, why)
}

/// Of each subject, the gap of least value, and every gap that lacks data: it might be the least.
fn nearest<G: Ground>(ground: &G, gaps: Vec<Gap<G::Amount>>) -> Vec<Gap<G::Amount>> {
    let amounts: Vec<&G::Amount> = gaps.iter().map(|(_, gap)| gap).collect();
    let known: Vec<Option<f64>> = ground
        .values(&amounts)
        .into_iter()
        .zip(ground.lacks(&amounts))
        .map(|(value, lacks)| (!lacks).then_some(value.si()))
        .collect();
    let mut least: BTreeMap<Feature, (f64, usize)> = BTreeMap::new();
    for (at, (((subject, _), _), value)) in gaps.iter().zip(&known).enumerate() {
        if let Some(value) = *value {
            let best = least.entry(*subject).or_insert((value, at));
            if value < best.0 {
                *best = (value, at);
            }
        }
    }
    let kept: BTreeSet<usize> = least.into_values().map(|(_, at)| at).collect();
    let is_kept = |at: usize| kept.contains(&at) || known.get(at).is_some_and(Option::is_none);
    gaps.into_iter().enumerate().filter(|(at, _)| is_kept(*at)).map(|(_, gap)| gap).collect()
}

/// Leaves out a pair that is there the other way round too, unless it comes first in the plan.
fn each_once<A>(gaps: Vec<Gap<A>>) -> Vec<Gap<A>> {
    let all: BTreeSet<(Feature, Feature)> = gaps.iter().map(|(pair, _)| *pair).collect();
    gaps.into_iter().filter(|((a, b), _)| a < b || !all.contains(&(*b, *a))).collect()
}
