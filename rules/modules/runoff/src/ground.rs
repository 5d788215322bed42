//! Ground: how large it is and what lies on it.

use groundrule_kit::{Feature, Ground, Length, Refusal, Shape, drawn_or_not};

use crate::one::stated;

/// The area of a feature as drawn; of one that is not drawn, as stated.
pub(crate) fn area<G: Ground>(ground: &G, of: Feature) -> Option<G::Amount> {
    if ground.shapes(&[of]) == [Shape::Absent]
        && let Some(area) = stated(ground, of, "stated_area")
    {
        return Some(area);
    }
    ground.area(&[of]).pop()
}

/// The length of a line as stated; otherwise as drawn.
pub(crate) fn length<G: Ground>(ground: &G, of: Feature) -> Option<G::Amount> {
    stated(ground, of, "flow_length").or_else(|| ground.length(&[of]).pop())
}

/// A row about rain on anything but ground has its subject wrong.
pub(crate) fn only_ground<G: Ground>(ground: &G, subjects: &[Feature]) -> Result<(), Refusal> {
    let kinds = ground.is_a(subjects, "lot").into_iter().zip(ground.is_a(subjects, "area"));
    match subjects.iter().zip(kinds).find(|(_, (lot, area))| !lot && !area) {
        None => Ok(()),
        Some((&other, _)) => Err(Refusal::new(format!(
            "the subject is a lot or another area, and {} is not; select kind `lot` or `drainage-area`",
            ground.labels(&[other]).concat(),
        ))),
    }
}

/// What of a group lies on a subject, buildings first, then paving, water, plants and ground: what stands higher takes
/// the rain. Those that are said to be on the same lot but are not drawn come too, and make what is measured lacking.
pub(crate) fn on<G: Ground>(ground: &G, subject: Feature, group: &[Feature]) -> Vec<Feature> {
    let mut found: Vec<Feature> =
        ground.near(&[subject], group, Length::ZERO).into_iter().map(|pair| pair.1).collect();
    let (_, unknown) = drawn_or_not(ground, group);
    let lot = ground.lot_of(&[subject]).pop().flatten().unwrap_or(subject);
    let of_lot = ground.lot_of(&unknown).into_iter().zip(&unknown);
    found.extend(of_lot.filter(|(of, _)| *of == Some(lot)).map(|(_, feature)| *feature));
    found.retain(|feature| *feature != subject);
    found.sort_unstable();
    found.dedup();
    let rank = |kind: &str| ground.is_a(&found, kind);
    let ranks = ["structure", "paving", "water", "planting"].map(rank);
    let mut ranked: Vec<(usize, Feature)> = found
        .iter()
        .enumerate()
        .map(|(at, feature)| {
            let of = ranks.iter().position(|rank| rank.get(at) == Some(&true));
            (of.unwrap_or(ranks.len()), *feature)
        })
        .collect();
    ranked.sort_unstable();
    ranked.into_iter().map(|(_, feature)| feature).collect()
}
