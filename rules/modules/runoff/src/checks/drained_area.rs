use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Need, Reading, Refusal, by_lot};

use crate::one::{label, stated};

/// Drained area: how much ground sheds its water into something.
///
/// # What it measures
/// The `drained_area` that the subject states, or the group `drained` on its lot, each place once.
///
/// # Why
/// What takes water in has a size, and so has what may be led to it.
///
/// # Parameters
/// None.
///
/// # Answers
/// An area for each subject. Lacking when nothing of the group is on its lot and it states none.
///
/// # Cautions
/// It says what is led there, not what flows there by itself.
pub struct DrainedArea;

impl Check for DrainedArea {
    const INFO: Info = Info {
        name: "drained-area",
        summary: "How much ground sheds its water into each subject.",
        dimension: Some(Dimension::Area),
        parameters: &[],
        groups: &["drained"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let on = by_lot(ground, &ground.subjects(), &ground.group("drained"));
        let one = |subject, others: &[Feature]| match drained(ground, subject, others) {
            Some(area) => Reading::amount(subject, area),
            None => Reading::lacking(subject, need(ground, subject)),
        };
        Ok(on.iter().map(|on| one(on.subject, &on.others)).collect())
    }
}

/// The area whose water a subject takes.
pub(crate) fn drained<G: Ground>(ground: &G, subject: Feature, group: &[Feature]) -> Option<G::Amount> {
    let covered = || (!group.is_empty()).then(|| ground.covered(group, None));
    stated(ground, subject, "drained_area").or_else(covered)
}

/// What to state where none is known.
pub(crate) fn need<G: Ground>(ground: &G, subject: Feature) -> Need {
    let what = format!("drained area of {}", label(ground, subject));
    Need::new(
        what,
        "state it as `drained_area`, or say by `drains_to` of each roof and paving where its water goes",
    )
}
