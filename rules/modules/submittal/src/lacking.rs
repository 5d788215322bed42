//! What is lacking of several things, in one need.

use groundrule_kit::{Feature, Ground, Need};

/// The most things named one by one.
const NAMED: usize = 4;

/// Things by what to call them: `a`, `a and b`, `a, b, c, d and 3 more`.
pub(crate) fn named(labels: &[String]) -> String {
    match labels {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] if labels.len() <= NAMED => format!("{} and {last}", most.join(", ")),
        all => {
            let first = all.get(..NAMED).unwrap_or_default();
            format!("{} and {} more", first.join(", "), all.len() - first.len())
        }
    }
}

/// A name of a file format as words.
pub(crate) fn plain(name: &str) -> String {
    name.replace('_', " ")
}

/// The names between which a row leaves the choice: `trunk or size`.
pub(crate) fn choices(written: &str) -> Vec<&str> {
    written.split(" or ").map(str::trim).filter(|name| !name.is_empty()).collect()
}

/// The same names as keys to be written.
pub(crate) fn keys(choices: &[&str]) -> String {
    choices.iter().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(" or ")
}

/// The same names in a sentence.
pub(crate) fn words(choices: &[&str]) -> String {
    choices.iter().map(|name| plain(name)).collect::<Vec<_>>().join(" or ")
}

/// For each feature, whether it states any of these.
pub(crate) fn states_any<G: Ground>(ground: &G, features: &[Feature], names: &[&str]) -> Vec<bool> {
    let mut states = vec![false; features.len()];
    for name in names {
        for (states, fact) in states.iter_mut().zip(ground.fact(features, name)) {
            *states |= fact.is_some();
        }
    }
    states
}

/// The need of those features that a test found wanting; none where it found none.
pub(crate) fn of_those<G: Ground>(
    ground: &G,
    features: &[Feature],
    meets: &[bool],
    need: impl FnOnce(&str) -> Need,
) -> Option<Need> {
    let wanting = features.iter().zip(meets).filter(|(_, meets)| !**meets).map(|(feature, _)| *feature);
    let wanting: Vec<Feature> = wanting.collect();
    (!wanting.is_empty()).then(|| need(&named(&ground.labels(&wanting))))
}

/// The need of those features that are stated but not drawn.
pub(crate) fn undrawn<G: Ground>(ground: &G, features: &[Feature]) -> Option<Need> {
    let (_, undrawn) = groundrule_kit::drawn_or_not(ground, features);
    let labels = named(&ground.labels(&undrawn));
    (!undrawn.is_empty()).then(|| {
        Need::new(format!("outline of {labels}"), "Draw it: its corners, or a box, a circle or a line.")
    })
}
