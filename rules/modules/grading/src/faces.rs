//! Faces of the ground on the lots of the subjects.

use std::collections::BTreeMap;

use groundrule_kit::{Face, Feature, Grade, Ground, Need, Ratio, Reading};

/// The faces steeper than a slope on the lot of each subject; the others are answered.
pub(crate) struct OnLots<A> {
    /// Each subject with its lot.
    pub(crate) subjects: Vec<(Feature, Feature)>,
    /// The faces of each lot.
    pub(crate) faces: BTreeMap<Feature, Vec<Face<A>>>,
    /// Of subjects whose lot is not known, or has no such face.
    pub(crate) readings: Vec<Reading<A>>,
}

/// Finds the faces once for each lot.
pub(crate) fn on_lots<G: Ground>(
    ground: &G,
    grade: Grade,
    subjects: &[Feature],
    steeper_than: Ratio,
) -> OnLots<G::Amount> {
    let mut found = OnLots { subjects: Vec::new(), faces: BTreeMap::new(), readings: Vec::new() };
    let lots = subjects.iter().zip(ground.lot_of(subjects)).zip(ground.is_a(subjects, "lot"));
    for ((&subject, lot), is_lot) in lots {
        // A lot stands on itself.
        let Some(lot) = lot.or(is_lot.then_some(subject)) else {
            let label = crate::amounts::label(ground, subject);
            let need = Need::new(format!("the lot of {label}"), "say on which `lot` it stands");
            found.readings.push(Reading::lacking(subject, need));
            continue;
        };
        let faces = found.faces.entry(lot).or_insert_with(|| ground.faces(grade, lot, steeper_than));
        if faces.is_empty() {
            let slope = steeper_than.percent();
            let why = format!("no ground of its lot is steeper than {slope:.1} %");
            found.readings.push(Reading::not_applicable(subject, why));
        } else {
            found.subjects.push((subject, lot));
        }
    }
    found
}
