use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Need, Reading, Refusal, by_lot};

use crate::one::{label, stated};

/// Drained area: how much ground sheds its water into something.
///
/// # What it measures
/// The `drained_area` that the subject states, or the group `drained` on its lot, each place once. Where a second
/// subject, or one of the group `takers`, is on that lot, nobody knows which of them the water goes to.
///
/// # Why
/// What takes water in has a size, and so has what may be led to it.
///
/// # Parameters
/// None.
///
/// # Answers
/// An area for each subject. Lacking when it states none and nothing of the group is on its lot, or something else there
/// takes the water too.
///
/// # Cautions
/// It says what is led there, not what flows there by itself.
pub struct DrainedArea;

/// The group of what sheds its water.
pub(crate) const DRAINED: &str = "drained";
/// The group of what takes water of that kind, the subjects apart.
pub(crate) const TAKERS: &str = "takers";

impl Check for DrainedArea {
    const INFO: Info = Info {
        name: "drained-area",
        summary: "How much ground sheds its water into each subject.",
        dimension: Some(Dimension::Area),
        parameters: &[],
        groups: &[DRAINED, TAKERS],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let one = |led: Led| match drained(ground, &led) {
            Some(area) => Reading::amount(led.subject, area),
            None => Reading::lacking(led.subject, need(ground, &led)),
        };
        Ok(led(ground).into_iter().map(one).collect())
    }
}

/// What may be led to a subject.
pub(crate) struct Led {
    pub(crate) subject: Feature,
    /// The group `drained` on its lot.
    pub(crate) from: Vec<Feature>,
    /// What else on its lot takes that water.
    pub(crate) beside: Vec<Feature>,
}

/// Every subject with what may be led to it.
pub(crate) fn led<G: Ground>(ground: &G) -> Vec<Led> {
    let subjects = ground.subjects();
    let mut takers = ground.group(TAKERS);
    takers.extend(&subjects);
    takers.sort_unstable();
    takers.dedup();
    let from = by_lot(ground, &subjects, &ground.group(DRAINED));
    let beside = by_lot(ground, &subjects, &takers);
    from.into_iter()
        .zip(beside)
        .map(|(from, beside)| Led { subject: from.subject, from: from.others, beside: beside.others })
        .collect()
}

/// The area whose water a subject takes. Where several share a lot, what drains there may go to any of them.
pub(crate) fn drained<G: Ground>(ground: &G, led: &Led) -> Option<G::Amount> {
    let covered = || (!led.from.is_empty() && led.beside.is_empty()).then(|| ground.covered(&led.from, None));
    stated(ground, led.subject, "drained_area").or_else(covered)
}

/// What to state where none is known.
pub(crate) fn need<G: Ground>(ground: &G, led: &Led) -> Need {
    let what = format!("drained area of {}", label(ground, led.subject));
    if led.beside.is_empty() {
        return Need::new(
            what,
            "state it as `drained_area`, or say by `drains_to` of each roof and paving where its water goes",
        );
    }
    let beside = ground.labels(&led.beside).join(", ");
    Need::new(
        what,
        format!(
            "{beside} on the same lot may take the water too: say which roof drains to which, by the \
             `drained_area` of each"
        ),
    )
}
