//! Subjects and the lines of their own lots, and the answers for those that have none.

use groundrule_kit::{Feature, Ground, Need, OnLot, Reading, by_lot, drawn_subjects};

/// Each drawn subject with the lines of a group on its own lot; the others are answered.
pub(crate) struct Lines<A> {
    /// Subjects that have lines to be measured to.
    pub(crate) known: Vec<OnLot>,
    /// The answers for those that have not.
    pub(crate) answered: Vec<Reading<A>>,
}

/// Puts the group `lines` beside each subject.
pub(crate) fn lines<G: Ground>(ground: &G) -> Lines<G::Amount> {
    let (subjects, mut answered) = drawn_subjects(ground);
    let mut known = by_lot(ground, &subjects, &ground.group("lines"));
    known.retain(|on| {
        if on.lot.is_some() && !on.others.is_empty() {
            return true;
        }
        answered.push(without_line(ground, on.subject, on.lot));
        false
    });
    Lines { known, answered }
}

/// The answer for a subject whose lot is not known, or has no line of the group.
fn without_line<G: Ground>(ground: &G, subject: Feature, lot: Option<Feature>) -> Reading<G::Amount> {
    match lot {
        None => Reading::lacking(
            subject,
            Need::new(
                format!("lot of {}", ground.labels(&[subject]).concat()),
                "draw the lot around it, or name it with `lot`, so that its lines are known",
            ),
        ),
        Some(lot) => Reading::not_applicable(
            subject,
            format!("{} has no line of the kind asked about", ground.labels(&[lot]).concat()),
        ),
    }
}

/// Every subject with every one of its lines.
pub(crate) fn pairs(known: &[OnLot]) -> Vec<(Feature, Feature)> {
    known.iter().flat_map(|on| on.others.iter().map(|&line| (on.subject, line))).collect()
}

/// For each amount, its best value in SI units, to choose by; none where data it rests on is not there.
pub(crate) fn known<G: Ground>(ground: &G, amounts: &[G::Amount]) -> Vec<Option<f64>> {
    let amounts: Vec<&G::Amount> = amounts.iter().collect();
    let values = ground.values(&amounts).into_iter().zip(ground.lacks(&amounts));
    values.map(|(value, lacks)| (!lacks).then_some(value.si())).collect()
}
