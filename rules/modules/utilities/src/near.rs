//! Bringing together what is near each other, on whatever lot it runs: a main in the street has none.

use groundrule_kit::{Feature, Ground, Length, Reading, drawn_or_not, not_drawn};

/// Each subject with what of a group is near it.
pub(crate) struct Near {
    /// Pairs to measure, in order: those within reach, and those whose other is stated but not drawn.
    pub(crate) pairs: Vec<(Feature, Feature)>,
    /// Drawn subjects that are in no pair.
    pub(crate) alone: Vec<Feature>,
    /// Subjects that are stated but not drawn.
    pub(crate) undrawn: Vec<Feature>,
}

/// Pairs every subject with those of a group within reach; without a reach, with all of it.
pub(crate) fn near<G: Ground>(ground: &G, group: &[Feature], reach: Option<Length>) -> Near {
    let (subjects, undrawn) = drawn_or_not(ground, &ground.subjects());
    let every = |others: &[Feature]| -> Vec<(Feature, Feature)> {
        let pairs = subjects.iter().flat_map(|&subject| others.iter().map(move |&other| (subject, other)));
        pairs.filter(|(subject, other)| subject != other).collect()
    };
    let mut pairs = match reach {
        None => every(group),
        Some(reach) => {
            let mut near = ground.near(&subjects, group, reach);
            near.extend(every(&drawn_or_not(ground, group).1));
            near
        }
    };
    pairs.sort_unstable();
    let alone = subjects
        .into_iter()
        .filter(|subject| pairs.binary_search_by_key(subject, |pair| pair.0).is_err())
        .collect();
    Near { pairs, alone, undrawn }
}

impl Near {
    /// The answers for subjects that are in no pair: their outline is lacking, or nothing is near.
    pub(crate) fn without_pair<G: Ground>(&self, ground: &G, nothing: &str) -> Vec<Reading<G::Amount>> {
        let lacking = self.undrawn.iter().zip(ground.labels(&self.undrawn));
        lacking
            .map(|(&subject, label)| Reading::lacking(subject, not_drawn(&label)))
            .chain(self.alone.iter().map(|&subject| Reading::not_applicable(subject, nothing)))
            .collect()
    }

    /// The others of the pairs.
    pub(crate) fn others(&self) -> Vec<Feature> {
        self.pairs.iter().map(|pair| pair.1).collect()
    }

    /// The subjects of the pairs.
    pub(crate) fn subjects(&self) -> Vec<Feature> {
        self.pairs.iter().map(|pair| pair.0).collect()
    }
}

/// For each amount, its best value in SI units; none where data it rests on is not there.
pub(crate) fn known<G: Ground>(ground: &G, amounts: &[G::Amount]) -> Vec<Option<f64>> {
    let amounts: Vec<&G::Amount> = amounts.iter().collect();
    let values = ground.values(&amounts).into_iter().zip(ground.lacks(&amounts));
    values.map(|(value, lacks)| (!lacks).then_some(value.si())).collect()
}
