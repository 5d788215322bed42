//! The corners of lots.

use groundrule_kit::{Feature, Ground};

/// The corners at which two lines of the group meet.
pub(crate) fn corners<G: Ground>(ground: &G) -> Vec<(Feature, Feature)> {
    let lines = ground.group("lines");
    let mut lots: Vec<Feature> = ground.lot_of(&lines).into_iter().flatten().collect();
    lots.sort_unstable();
    lots.dedup();
    let both = |(a, b): &(Feature, Feature)| lines.contains(a) && lines.contains(b);
    ground.lot_corners(&lots).into_iter().flatten().filter(both).collect()
}
