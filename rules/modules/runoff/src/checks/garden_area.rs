use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Reading, Refusal, by_lot};

use crate::checks::drained_area::{drained, need};
use crate::ground::area;

/// Garden area: how large a rain garden is, beside the ground it takes water from.
///
/// # What it measures
/// The area of the subject as drawn, or as stated where it is not drawn. The ground is the `drained_area` it states, or
/// the group `drained` on its lot, each place once.
///
/// # Why
/// A rain garden that is too small for its roof runs over in every shower.
///
/// # Parameters
/// None.
///
/// # Answers
/// An area for each subject, with the fact `drained_area`. Lacking when that is not known.
///
/// # Cautions
/// How fast its soil takes water decides in the end; test it.
pub struct GardenArea;

impl Check for GardenArea {
    const INFO: Info = Info {
        name: "garden-area",
        summary: "How large each rain garden is, beside the ground it takes water from.",
        dimension: Some(Dimension::Area),
        parameters: &[],
        groups: &["drained"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let on = by_lot(ground, &ground.subjects(), &ground.group("drained"));
        let one =
            |subject, others: &[Feature]| match area(ground, subject).zip(drained(ground, subject, others)) {
                Some((area, drained)) => Reading::amount(subject, area).shown("drained_area", drained),
                None => Reading::lacking(subject, need(ground, subject)),
            };
        Ok(on.iter().map(|on| one(on.subject, &on.others)).collect())
    }
}
