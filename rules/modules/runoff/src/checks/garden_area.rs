use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

use crate::checks::drained_area::{DRAINED, Led, TAKERS, drained, led, need};
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
/// An area for each subject, with the fact `drained_area`. Lacking when that is not known: it states none, and nothing
/// is led to its lot or another subject, or one of the group `takers`, is there too.
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
        groups: &[DRAINED, TAKERS],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let one = |of: Led| match area(ground, of.subject).zip(drained(ground, &of)) {
            Some((area, drained)) => Reading::amount(of.subject, area).shown("drained_area", drained),
            None => Reading::lacking(of.subject, need(ground, &of)),
        };
        Ok(led(ground).into_iter().map(one).collect())
    }
}
