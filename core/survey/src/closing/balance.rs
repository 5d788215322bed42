//! Making a loop close by sharing its misclosure out: two published methods that weigh nothing.
//!
//! They serve to name an area for a loop that does not quite close and to compare with printed examples; a plan's
//! points come from the adjustment, never from these.

use groundrule_units::Length;

use super::steps::{Step, sum};

/// The compass rule: each step takes its share of the misclosure by its length.
///
/// A loop without length stays as it is. Source of the rule: N. Bowditch, 1808; every textbook of surveying.
pub fn compass_rule(steps: &[Step]) -> Vec<Step> {
    let perimeter: Length = steps.iter().map(|step| step.length()).sum();
    let gap = sum(steps);
    let balanced = |step: &Step| {
        let share = share(step.length(), perimeter);
        step.less(Step { north: gap.north * share, east: gap.east * share })
    };
    steps.iter().map(balanced).collect()
}

/// The transit rule: each latitude takes its share of the misclosure by its size among the latitudes, each
/// departure among the departures.
pub fn transit_rule(steps: &[Step]) -> Vec<Step> {
    let norths: Length = steps.iter().map(|step| step.north.abs()).sum();
    let easts: Length = steps.iter().map(|step| step.east.abs()).sum();
    let gap = sum(steps);
    let balanced = |step: &Step| {
        step.less(Step {
            north: gap.north * share(step.north.abs(), norths),
            east: gap.east * share(step.east.abs(), easts),
        })
    };
    steps.iter().map(balanced).collect()
}

/// One part of a whole; nothing of nothing.
fn share(part: Length, whole: Length) -> f64 {
    if whole > Length::ZERO { (part / whole).fraction() } else { 0.0 }
}
