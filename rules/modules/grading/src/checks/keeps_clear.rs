use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Reading, Refusal, drawn_or_not, not_drawn};

use crate::amounts::{known, label};
use crate::goes::goes;
use crate::surface::{GRADE, on_ground};

/// Keeps clear: whether water from each subject keeps clear of some others.
///
/// # What it measures
/// The way of water down the steepest fall from each place of the subject, to each of the group `of` on the same lot. The
/// amount says how sure it is that none of it comes there: a number of standard uncertainties, less than nothing where it
/// does come there. Judge it against zero.
///
/// # Why
/// Water led against a house or onto the lot next door does its harm where nobody looks for the cause.
///
/// # Parameters
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A plain number for each subject and each of the group, with the facts `to` (what it is to keep clear of) and `goes`
/// (where its water ends). Not applicable when none of the group shares its lot. Lacking where the plan has no levels of
/// that ground, or none at the subject.
///
/// # Cautions
/// Water is followed over the bare surface: it does not soak in, and neither grass, gutters nor a curb that is not drawn
/// with levels turn it.
pub struct KeepsClear;

impl Check for KeepsClear {
    const INFO: Info = Info {
        name: "keeps-clear",
        summary: "How sure it is that water from each subject keeps clear of some others.",
        dimension: Some(Dimension::Ratio),
        parameters: &[GRADE.info()],
        groups: &["of"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (others, undrawn) = drawn_or_not(ground, &ground.group("of"));
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        for &subject in &on.subjects {
            let drawn = sharing(ground, subject, &others);
            let lacking = sharing(ground, subject, &undrawn);
            if drawn.is_empty() && lacking.is_empty() {
                readings
                    .push(Reading::not_applicable(subject, "there is nothing on its lot to keep clear of"));
                continue;
            }
            let pairs: Vec<(Feature, Feature)> = drawn.iter().map(|&other| (subject, other)).collect();
            let courses = ground.courses(on.grade, &[subject], &drawn, &[], false).pop().unwrap_or_default();
            let goes = goes(ground, &courses);
            for (margin, &other) in ground.keeps_clear(on.grade, &pairs).into_iter().zip(&drawn) {
                let comes = known(ground, &margin).is_some_and(|margin| margin < 0.0);
                let found = if comes { "water there" } else { "no water there" };
                let reading = Reading::amount(subject, margin).to(other).text("to", label(ground, other));
                readings.push(reading.text("goes", goes.as_str()).said(found, "no water there"));
            }
            readings.extend(
                lacking
                    .iter()
                    .map(|&other| Reading::lacking(subject, not_drawn(&label(ground, other))).to(other)),
            );
        }
        Ok(readings)
    }
}

/// Those of a group that are not known to be on another lot.
fn sharing<G: Ground>(ground: &G, subject: Feature, group: &[Feature]) -> Vec<Feature> {
    let own = ground.lot_of(&[subject]).pop().flatten();
    let shared = |other: Feature, lot: Option<Feature>| {
        other != subject && (own.is_none() || lot.is_none() || own == lot)
    };
    let all = group.iter().copied().zip(ground.lot_of(group));
    all.filter(|(other, lot)| shared(*other, *lot)).map(|(other, _)| other).collect()
}
