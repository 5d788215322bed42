use groundrule_kit::{
    Check, Choice, Dimension, Feature, Figure, Ground, Info, Length, Need, Reading, Refusal,
};

use crate::amounts::{label, less};
use crate::levels::{OF, named, stated};
use crate::surface::{GRADE, on_ground};

/// Level over ground: how far a stated level of each subject stands over the ground around it.
///
/// # What it measures
/// The level that the plan states of the subject under the name `of` (its floor, the top of its foundation, the lower
/// edge of its siding), less the level of the ground along its edge: the greatest, or the least. The group `paving` is
/// what counts as hard ground where it comes to the edge.
///
/// # Why
/// Earth against wood rots it and lets insects in unseen; a foundation that stands out of the ground keeps rain and
/// mulch off the wall. Over paving less is enough, for it does not grow.
///
/// # Parameters
/// - `of`: the level, as the plan file calls it: `floor_level`, `foundation_level`, `siding_level`, `rim`. Needed.
/// - `figure`: the `greatest` level of the ground around it, or the `least`. Without it, `greatest`.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A length for each subject, less than nothing where the ground stands higher, with the facts `ground` (its level) and
/// `paved` (whether paving of the group comes to the edge somewhere). Lacking where the level is not stated, or the plan
/// has no levels of the ground there.
///
/// # Cautions
/// One level is stated for the whole of a thing; state the lowest. Where paving comes to a part of the edge, the ground
/// is taken together with it: what is asked over soil is then to be looked at by hand.
pub struct LevelOverGround;

const FIGURE: Choice<Figure> = Choice::new(
    "figure",
    "Which level of the ground around it: `greatest` or `least`; `greatest` when not given.",
    &[("greatest", Figure::Greatest), ("least", Figure::Least)],
    Figure::Greatest,
);
/// Paving so near comes to the edge: two inches.
const AT_EDGE: Length = Length::from_inches(2.0);

impl Check for LevelOverGround {
    const INFO: Info = Info {
        name: "level-over-ground",
        summary: "How far a stated level of each subject stands over the ground around it.",
        dimension: Some(Dimension::Length),
        parameters: &[OF, FIGURE.info(), GRADE.info()],
        groups: &["paving"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (of, figure) = (named(ground)?, FIGURE.read(ground)?);
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        let paved: Vec<Feature> = ground
            .near(&on.subjects, &ground.group("paving"), AT_EDGE)
            .into_iter()
            .map(|pair| pair.0)
            .collect();
        let levels = ground.level(on.grade, &on.subjects, figure);
        for (subject, level) in on.subjects.into_iter().zip(levels) {
            let reading = match stated(ground, subject, &of) {
                Ok(stated) => match less(ground, &stated, &level) {
                    Some(gap) => Reading::amount(subject, gap),
                    None => Reading::lacking(
                        subject,
                        Need::new(format!("level of {}", label(ground, subject)), "state it"),
                    ),
                },
                Err(need) => Reading::lacking(subject, need),
            };
            readings.push(reading.shown("ground", level).flag("paved", paved.contains(&subject)));
        }
        Ok(readings)
    }
}
