//! Bringing together what stands on the same lot.

use std::collections::{BTreeMap, BTreeSet};

use crate::{Feature, Ground};

/// A subject with what shares its lot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnLot {
    /// The subject.
    pub subject: Feature,
    /// The lot it stands on, if that is known.
    pub lot: Option<Feature>,
    /// Those of the group on the same lot, without the subject itself, in the group's order.
    pub others: Vec<Feature>,
}

/// Puts beside each subject those of a group that stand on, or bound, the same lot. A subject without a lot gets none.
pub fn by_lot<G: Ground>(ground: &G, subjects: &[Feature], group: &[Feature]) -> Vec<OnLot> {
    let mut on: BTreeMap<Feature, Vec<Feature>> = BTreeMap::new();
    for (&feature, lot) in group.iter().zip(ground.lot_of(group)) {
        if let Some(lot) = lot {
            on.entry(lot).or_default().push(feature);
        }
    }
    subjects
        .iter()
        .zip(ground.lot_of(subjects))
        .map(|(&subject, lot)| {
            let there = lot.and_then(|lot| on.get(&lot)).map_or(&[][..], Vec::as_slice);
            let others = there.iter().copied().filter(|&other| other != subject).collect();
            OnLot { subject, lot, others }
        })
        .collect()
}

/// Those subjects that come first in none of the pairs, in their order.
pub fn in_no_pair(subjects: &[Feature], pairs: &[(Feature, Feature)]) -> Vec<Feature> {
    let told: BTreeSet<Feature> = pairs.iter().map(|pair| pair.0).collect();
    subjects.iter().copied().filter(|subject| !told.contains(subject)).collect()
}

/// Those pairs that stand on one lot. A feature without a lot shares none.
pub fn on_one_lot<G: Ground>(ground: &G, pairs: Vec<(Feature, Feature)>) -> Vec<(Feature, Feature)> {
    let (firsts, seconds): (Vec<Feature>, Vec<Feature>) = pairs.iter().copied().unzip();
    let lots = ground.lot_of(&firsts).into_iter().zip(ground.lot_of(&seconds));
    pairs.into_iter().zip(lots).filter(|(_, (a, b))| a.is_some() && a == b).map(|(pair, _)| pair).collect()
}
