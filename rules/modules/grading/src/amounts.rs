//! Small steps with amounts.

use groundrule_kit::{Feature, Ground};

/// The best value in SI units; none where data it rests on is not there.
pub(crate) fn known<G: Ground>(ground: &G, amount: &G::Amount) -> Option<f64> {
    let lacks = ground.lacks(&[amount]).into_iter().any(|lacks| lacks);
    ground.values(&[amount]).first().map(|value| value.si()).filter(|_| !lacks)
}

/// First less second.
pub(crate) fn less<G: Ground>(ground: &G, first: &G::Amount, second: &G::Amount) -> Option<G::Amount> {
    ground.subtract(&[(first, second)]).pop()
}

/// First and second together.
pub(crate) fn plus<G: Ground>(ground: &G, first: &G::Amount, second: &G::Amount) -> Option<G::Amount> {
    ground.add(&[(first, second)]).pop()
}

/// The greatest of some amounts.
pub(crate) fn greatest<G: Ground>(ground: &G, amounts: &[G::Amount]) -> Option<G::Amount> {
    ground.greatest(&amounts.iter().collect::<Vec<_>>())
}

/// What to call a feature.
pub(crate) fn label<G: Ground>(ground: &G, feature: Feature) -> String {
    ground.labels(&[feature]).pop().unwrap_or_default()
}
