use groundrule_kit::{
    Check, Choice, Dimension, Feature, Form, Ground, Info, Need, ParameterInfo, Reading, Refusal,
};

use crate::figures::Figures;
use crate::ground::{area, on, only_ground};
use crate::one::{Asking, copy, given_or_stated, number, one, unstated};
use crate::parts::{Part, composite, listed, parts, plain};

/// Peak flow: how much water leaves a piece of ground at most, by the rational method.
///
/// # What it measures
/// `k C i A`: the area of the subject, the intensity of the rain, and the share of it that runs off. That share is what
/// the subject states as `runoff_coefficient`, or that of the group `surfaces` on it, weighted by area: of each thing what it
/// states, or what `coefficients` gives for its surface or kind. Buildings take the rain first, then paving, water,
/// plants and other ground; a place counts once.
///
/// # Why
/// Roofs and paving shed water that soil would take. What leaves must fit the pipe or swale that takes it, and must not
/// be more than the neighbour below received before.
///
/// # Parameters
/// - `coefficients`: figures of kinds and surfaces, and of the `ground` that nothing else covers:
///   `["structure 0.95", "drive 0.85", "ground 0.20"]`.
/// - `intensity`: how hard it rains. Without it, what the subject states as `rain_intensity`.
/// - `form`: `exact`, or `customary` for a `k` of 1 with acres, which gives 0.8 % less. Without it, `exact`.
///
/// # Answers
/// A flow for each subject, with the fact `drained_area`, the `name`, `area` and `coefficient` of each part, and the
/// `coefficient` of all together with the `k` that was used. Lacking when a coefficient or the intensity is not given, or something on it is not drawn.
///
/// # Cautions
/// The method is for small areas and for rain that lasts as long as water needs from the farthest place; intensity and
/// coefficients come from the local drainage manual. A licensed engineer answers for the design.
pub struct PeakFlow;

pub(crate) const COEFFICIENTS: ParameterInfo = ParameterInfo {
    name: "coefficients",
    summary: "Runoff coefficients of kinds, surfaces and of the ground besides: [\"structure 0.95\", \"ground 0.20\"].",
};
pub(crate) const INTENSITY: ParameterInfo = ParameterInfo {
    name: "intensity",
    summary: "How hard it rains; what the subject states as `rain_intensity` when not given.",
};
pub(crate) const FORM: Choice<Form> = Choice::new(
    "form",
    "`exact`, or `customary` for a k of 1 with acres. Without it, `exact`.",
    &[("exact", Form::Exact), ("customary", Form::Customary)],
    Form::Exact,
);

impl Check for PeakFlow {
    const INFO: Info = Info {
        name: "peak-flow",
        summary: "The peak flow from each piece of ground, by the rational method.",
        dimension: Some(Dimension::Flow),
        parameters: &[COEFFICIENTS, INTENSITY, FORM.info()],
        groups: &["surfaces"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (figures, form) = (Figures::read(ground, COEFFICIENTS.name)?, FORM.read(ground)?);
        let (subjects, surfaces) = (ground.subjects(), ground.group("surfaces"));
        only_ground(ground, &subjects)?;
        let reading = |subject| match peak(ground, subject, &surfaces, &figures, form) {
            Ok(peak) => {
                let reading = Reading::amount(subject, peak.flow).shown("drained_area", peak.area);
                let together = [("coefficient", plain(peak.coefficient)), ("k", k_words(form).to_owned())];
                listed(reading, peak.parts, "coefficient", &together)
            }
            Err(lacking) => lacking,
        };
        Ok(subjects.into_iter().map(reading).collect())
    }
}

/// A peak with what it was made from.
pub(crate) struct Peak<A> {
    pub(crate) flow: A,
    pub(crate) area: A,
    pub(crate) coefficient: f64,
    pub(crate) parts: Vec<Part<A>>,
}

/// The peak of a subject with these surfaces on it, or a reading that says what is lacking.
pub(crate) fn peak<G: Ground>(
    ground: &G,
    subject: Feature,
    surfaces: &[Feature],
    figures: &Figures,
    form: Form,
) -> Result<Peak<G::Amount>, Reading<G::Amount>> {
    let mut asking = Asking::of(ground, subject);
    let rain = given_or_stated(ground, INTENSITY.name, subject, "rain_intensity");
    asking.note(rain.is_some(), "rain_intensity", "take it from the local table for the design storm");
    let whole = area(ground, subject);
    let parts = whole.as_ref().and_then(|whole| match number(ground, subject, "runoff_coefficient") {
        Some(figure) => {
            let part = Part { name: asking.label.clone(), area: copy(ground, whole)?, figure };
            Some(Ok(vec![part]))
        }
        None => Some(parts(
            ground,
            subject,
            whole,
            &on(ground, subject, surfaces),
            |feature| figures.of(ground, feature, "runoff_coefficient"),
            figures.of_ground(),
            needed,
        )),
    });
    let parts = match parts {
        Some(Ok(parts)) => Some(parts),
        Some(Err(needs)) => {
            asking.needs.extend(needs);
            None
        }
        None => None,
    };
    let found = parts.zip(rain).zip(whole).and_then(|((parts, rain), area)| {
        let mean = composite(ground, &parts)?;
        let flow = one(ground.rational_peak(&[(&area, &mean, &rain)], form))?;
        let coefficient = ground.values(&[&mean]).first()?.si();
        Some(Peak { flow, area, coefficient, parts })
    });
    found.ok_or_else(|| asking.lacking(("peak flow", "give it an area that is more than nothing")))
}

fn needed(name: &str) -> Need {
    unstated("runoff_coefficient", name, "take it from the local table for its surface")
}

/// Which `k`, in words.
pub(crate) fn k_words(form: Form) -> &'static str {
    match form {
        Form::Exact => "1.008 for acres, 1/43,200 for square feet",
        Form::Customary => "1 for acres, 1/43,560 for square feet",
    }
}
