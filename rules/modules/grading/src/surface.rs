//! Which ground a check measures, and what to ask for where the plan has no levels of it.

use groundrule_kit::{Choice, Feature, Grade, Ground, Need, Reading, Refusal, drawn_subjects};

/// The parameter that says which ground.
pub(crate) const GRADE: Choice<Grade> = Choice::new(
    "grade",
    "Which ground is measured: `proposed` or `existing`; `proposed` when not given.",
    &[("proposed", Grade::Proposed), ("existing", Grade::Existing)],
    Grade::Proposed,
);

const fn word(grade: Grade) -> &'static str {
    match grade {
        Grade::Existing => "existing",
        Grade::Proposed => "proposed",
    }
}

/// What is lacking where there is no surface of the ground.
pub(crate) fn no_levels(grade: Grade) -> Need {
    Need::new(
        format!("levels of the {} ground", word(grade)),
        "take at least three that are not on one line: at the corners of the lot and of the house, at the street, and \
         wherever the slope changes",
    )
}

/// What is lacking where the surface does not reach a thing.
pub(crate) fn few_levels(grade: Grade, label: &str) -> Need {
    Need::new(
        format!("levels of the {} ground at {label}", word(grade)),
        format!("take levels around {label}, so that the surface reaches all of it"),
    )
}

/// The subjects that can be measured on a ground, and the answers for the others.
pub(crate) struct OnGround<A> {
    /// Which ground.
    pub(crate) grade: Grade,
    /// Drawn, on a ground that is known.
    pub(crate) subjects: Vec<Feature>,
    /// Of the others: their shape is lacking, or the levels are.
    pub(crate) readings: Vec<Reading<A>>,
}

/// Parts the subjects by whether there is ground to measure them on.
pub(crate) fn on_ground<G: Ground>(ground: &G) -> Result<OnGround<G::Amount>, Refusal> {
    let grade = GRADE.read(ground)?;
    let (mut subjects, mut readings) = drawn_subjects(ground);
    if !ground.known(grade) {
        readings.extend(subjects.drain(..).map(|subject| Reading::lacking(subject, no_levels(grade))));
    }
    Ok(OnGround { grade, subjects, readings })
}

/// One amount of the ground at each subject.
pub(crate) fn each<G: Ground>(
    ground: &G,
    measure: impl FnOnce(Grade, &[Feature]) -> Vec<G::Amount>,
) -> Result<Vec<Reading<G::Amount>>, Refusal> {
    let OnGround { grade, subjects, mut readings } = on_ground(ground)?;
    let amounts = measure(grade, &subjects);
    readings
        .extend(subjects.into_iter().zip(amounts).map(|(subject, amount)| Reading::amount(subject, amount)));
    Ok(readings)
}
