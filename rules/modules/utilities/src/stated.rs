//! What the plan states of a feature, or what to ask for.

use groundrule_kit::{Feature, Ground, Need};

/// A stated amount of each feature, or what is lacking: `cover of gas`, with how to get it.
pub(crate) fn stated<G: Ground>(
    ground: &G,
    features: &[Feature],
    name: &str,
    how: &str,
) -> Vec<Result<G::Amount, Need>> {
    let labels = ground.labels(features);
    let asked = ground.stated(features, name).into_iter().zip(labels);
    let words = name.replace('_', " ");
    asked.map(|(amount, label)| amount.ok_or_else(|| Need::new(format!("{words} of {label}"), how))).collect()
}

/// How to get the cover of a line.
pub(crate) const COVER: &str =
    "have it exposed by hand at one place and state the earth over its top as `cover`";
