//! Where water ends, in words.

use std::collections::BTreeMap;

use groundrule_kit::{Course, Ground, Outcome};

use crate::amounts::label;

/// Where the water of a thing ends: `to the inlet`, `6 of 8 places over side lot line e, 2 stand`.
pub(crate) fn goes<G: Ground>(ground: &G, courses: &[Course<G::Amount>]) -> String {
    let mut ends: BTreeMap<Outcome, usize> = BTreeMap::new();
    for course in courses {
        *ends.entry(course.outcome).or_default() += 1;
    }
    let mut ends: Vec<(Outcome, usize)> = ends.into_iter().collect();
    ends.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let all = courses.len();
    let told = ends.into_iter().map(|(outcome, count)| {
        let end = end(ground, outcome);
        if count == all { end } else { format!("{count} of {all} places {end}") }
    });
    told.collect::<Vec<_>>().join(", ")
}

fn end<G: Ground>(ground: &G, outcome: Outcome) -> String {
    match outcome {
        Outcome::At(feature) => format!("to {}", label(ground, feature)),
        Outcome::Building(feature) => format!("against {}", label(ground, feature)),
        Outcome::Over(line) => format!("over {}", label(ground, line)),
        Outcome::Stands => "standing on the lot".to_owned(),
        Outcome::BeyondLevels => "to where the levels end".to_owned(),
        Outcome::Unknown => "from where there are no levels".to_owned(),
    }
}
