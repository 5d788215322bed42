//! Two amounts that should be the same.

use groundrule_kit::{Answer, Feature, Ground, Need, Reading};

/// One amount with what it is called among the facts of the reading.
pub(crate) type Figure<Amount> = (&'static str, Amount);

/// The first over the second as the answer, with both beside it.
pub(crate) fn share<G: Ground>(
    ground: &G,
    subject: Feature,
    (name, first): Figure<G::Amount>,
    (other, second): Figure<G::Amount>,
    nothing: impl FnOnce() -> Need,
) -> Reading<G::Amount> {
    let share = ground.ratio(&[(&first, &second)]).pop().flatten();
    match share {
        Some(share) => Reading::amount(subject, share).shown(name, first).shown(other, second),
        None => Reading::new(subject, Answer::Lacking(vec![nothing()])),
    }
}
