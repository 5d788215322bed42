//! Bringing together what stands on the same lot.

use std::collections::BTreeMap;

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

/// Those of the features that are stated but not drawn. A search by place passes over them, so a check
/// that searches answers for them apart.
pub fn undrawn<G: Ground>(ground: &G, features: &[Feature]) -> Vec<Feature> {
    let shapes = ground.shapes(features);
    features
        .iter()
        .zip(shapes)
        .filter(|(_, shape)| *shape == crate::Shape::Absent)
        .map(|(&feature, _)| feature)
        .collect()
}
