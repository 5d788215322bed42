//! Lots, and what stands on each.

use std::collections::BTreeMap;

use groundrule_kit::{Feature, Ground, Length, Refusal, drawn_or_not};

/// A share is of a piece of ground; a row about anything else has its subject wrong.
pub(crate) fn only_ground<G: Ground>(ground: &G, check: &str, subjects: &[Feature]) -> Result<(), Refusal> {
    let lots = ground.is_a(subjects, "lot");
    let areas = ground.is_a(subjects, "area");
    let other = subjects.iter().zip(lots.into_iter().zip(areas)).find(|(_, (lot, area))| !lot && !area);
    match other {
        None => Ok(()),
        Some((&other, _)) => Err(Refusal::new(format!(
            "the subject of {check} is a lot or another area, and {} is not; select kind `lot` and put what covers \
             it into the group `covering`",
            ground.labels(&[other]).concat(),
        ))),
    }
}

/// What of a group touches each piece of ground, wherever most of it stands, and what is said to stand on that
/// lot but is not drawn.
pub(crate) fn touching<G: Ground>(
    ground: &G,
    areas: &[Feature],
    group: &[Feature],
) -> BTreeMap<Feature, Vec<Feature>> {
    let mut on: BTreeMap<Feature, Vec<Feature>> = BTreeMap::new();
    for (area, feature) in ground.near(areas, group, Length::ZERO) {
        on.entry(area).or_default().push(feature);
    }
    let (_, unknown) = drawn_or_not(ground, group);
    let of_areas: Vec<(Feature, Option<Feature>)> = areas.iter().copied().zip(ground.lot_of(areas)).collect();
    for (&feature, lot) in unknown.iter().zip(ground.lot_of(&unknown)) {
        for (area, _) in
            of_areas.iter().filter(|(area, of)| lot.is_some() && (*of == lot || Some(*area) == lot))
        {
            on.entry(*area).or_default().push(feature);
        }
    }
    on
}
