use groundrule_kit::{Check, Choice, Dimension, Feature, Ground, Info, Reading, Refusal};

use crate::checks::peak_flow::{COEFFICIENTS, FORM, INTENSITY, k_words, peak};
use crate::figures::Figures;
use crate::ground::only_ground;
use crate::one::one;
use crate::parts::{listed, plain};

/// Peak increase: how much more water leaves a piece of ground than before, by the rational method.
///
/// # What it measures
/// The peak flow as `peak-flow` measures it, with all of the group `surfaces` that will be there, less the same with what was there before.
///
/// # Why
/// The neighbour below has to take what came naturally, and as a rule not more.
///
/// # Parameters
/// - `before`: `existing` for what stands now, what will be taken away included; `ground` for the bare ground alone.
///   Without it, `existing`.
/// - `coefficients`, `intensity`, `form`: as for `peak-flow`.
///
/// # Answers
/// A flow for each subject, negative where less leaves, with the facts `before`, `after` and `factor` (after over before),
/// the `name`, `area` and `coefficient` of each part as it will be, and of all together also `coefficient_before` and `k`. Lacking as for `peak-flow`. Not for ground that states one
/// coefficient for all of it: that says nothing of before and after.
///
/// # Cautions
/// The same rain is taken before and after, though water that runs faster off hard ground meets a harder one.
/// A licensed engineer answers for the design.
pub struct PeakIncrease;

const BEFORE: Choice<bool> = Choice::new(
    "before",
    "`existing`: what stands now; `ground`: the bare ground alone. Without it, `existing`.",
    &[("existing", true), ("ground", false)],
    true,
);

impl Check for PeakIncrease {
    const INFO: Info = Info {
        name: "peak-increase",
        summary: "How much the peak flow from each piece of ground grows, by the rational method.",
        dimension: Some(Dimension::Flow),
        parameters: &[BEFORE.info(), COEFFICIENTS, INTENSITY, FORM.info()],
        groups: &["surfaces"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (figures, form) = (Figures::read(ground, COEFFICIENTS.name)?, FORM.read(ground)?);
        let existing = BEFORE.read(ground)?;
        let (subjects, surfaces) = (ground.subjects(), ground.group("surfaces"));
        only_ground(ground, &subjects)?;
        let status: Vec<Option<String>> = ground.texts(&surfaces, "status");
        let of = |wanted: &[&str]| -> Vec<Feature> {
            let is = |status: &Option<String>| wanted.contains(&status.as_deref().unwrap_or("existing"));
            surfaces.iter().zip(&status).filter(|(_, status)| is(status)).map(|(of, _)| *of).collect()
        };
        let after = of(&["existing", "proposed"]);
        let before = if existing { of(&["existing", "remove"]) } else { Vec::new() };
        let stated = ground.fact(&subjects, "runoff_coefficient");
        let mut readings = Vec::with_capacity(subjects.len());
        for (subject, stated) in subjects.into_iter().zip(stated) {
            if stated.is_some() {
                readings
                    .push(Reading::not_applicable(subject, "it states one coefficient for all its ground"));
                continue;
            }
            let both = peak(ground, subject, &before, &figures, form)
                .and_then(|before| Ok((before, peak(ground, subject, &after, &figures, form)?)));
            readings.push(match both {
                Ok((before, after)) => {
                    let Some(more) = ground.subtract(&[(&after.flow, &before.flow)]).pop() else { continue };
                    let factor = one(ground.ratio(&[(&after.flow, &before.flow)]));
                    let mut reading = Reading::amount(subject, more)
                        .shown("before", before.flow)
                        .shown("after", after.flow);
                    let words = [
                        ("coefficient_before", plain(before.coefficient)),
                        ("k", k_words(form).to_owned()),
                        ("coefficient", plain(after.coefficient)),
                    ];
                    reading = listed(reading, after.parts, "coefficient", &words);
                    if let Some(factor) = factor {
                        reading = reading.shown("factor", factor);
                    }
                    reading
                }
                Err(lacking) => lacking,
            });
        }
        Ok(readings)
    }
}
