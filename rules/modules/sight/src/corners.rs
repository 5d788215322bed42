//! The corners of lots.

use std::collections::BTreeSet;

use groundrule_kit::{Feature, Ground, Length};

/// The corners at which two lines of the group `lines` meet, or would meet if the corner were not cut or rounded: then
/// a line of its own, no longer than `cut`, lies between them.
pub(crate) fn corners<G: Ground>(ground: &G, cut: Length) -> Vec<(Feature, Feature)> {
    let group = ground.group("lines");
    let lines: BTreeSet<Feature> = group.iter().copied().collect();
    let mut lots: Vec<Feature> = ground.lot_of(&group).into_iter().flatten().collect();
    lots.sort_unstable();
    lots.dedup();
    let mut corners = Vec::new();
    for around in ground.lot_corners(&lots) {
        let next = |of: Feature| around.iter().find(|pair| pair.0 == of).map(|pair| pair.1);
        for &(first, second) in around.iter().filter(|pair| lines.contains(&pair.0)) {
            if lines.contains(&second) {
                corners.push((first, second));
                continue;
            }
            let beyond = next(second).filter(|beyond| *beyond != first && lines.contains(beyond));
            let length = ground.length(&[second]);
            let short = ground.values(&length.iter().collect::<Vec<_>>());
            let is_cut = short.first().is_some_and(|length| length.si() <= cut.metres());
            corners.extend(beyond.filter(|_| is_cut).map(|beyond| (first, beyond)));
        }
    }
    corners
}
