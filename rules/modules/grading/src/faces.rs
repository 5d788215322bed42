//! Faces of the ground on the lots of the subjects.

use std::collections::BTreeMap;

use groundrule_kit::{Face, Feature, Figure, Grade, Ground, Length, Need, Ratio, Reading};

use crate::amounts::known;
use crate::surface::few_levels;

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
            // No face, or no levels on this lot to see one by.
            let over = ground.slope_over(grade, &[lot], Figure::Greatest);
            if ground.lacks(&over.iter().collect::<Vec<_>>()).into_iter().any(|lacks| lacks) {
                let need = few_levels(grade, &crate::amounts::label(ground, lot));
                found.readings.push(Reading::lacking(subject, need));
                continue;
            }
            let slope = steeper_than.percent();
            let why = format!("no ground of its lot is steeper than {slope:.1} %");
            found.readings.push(Reading::not_applicable(subject, why));
        } else {
            found.subjects.push((subject, lot));
        }
    }
    found
}

/// A face whose foot and top come so near to a wall is the wall: two feet.
const ALONG: Length = Length::from_feet(2.0);

/// Whether a face is one of some walls that are drawn with levels.
pub(crate) fn is_wall<G: Ground>(ground: &G, face: &Face<G::Amount>, walls: &[Feature]) -> bool {
    let along = |wall: &Feature| {
        let both = ground.between(&[(*wall, face.toe), (*wall, face.crest)]);
        both.iter().all(|gap| known(ground, gap).is_some_and(|gap| gap <= ALONG.metres()))
    };
    walls.iter().any(along)
}
