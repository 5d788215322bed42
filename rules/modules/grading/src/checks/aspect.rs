use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

use crate::surface::{GRADE, OnGround, on_ground};

/// Aspect: which way the ground of each subject faces.
///
/// # What it measures
/// The direction in which the ground inside the subject falls on the whole, by the mean of its slopes, clockwise from
/// true north: 90 degrees is east, 180 south.
///
/// # Why
/// Ground that falls toward the noon sun is warmer and dries sooner; ground that falls away from it holds frost and snow.
///
/// # Parameters
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// An angle for each subject. Not applicable to level ground. Lacking where the plan has no levels there, or does not say
/// which way north lies.
///
/// # Cautions
/// On ground that is nearly level the direction means little; its plus-or-minus says so. Shadows are no part of it.
pub struct Aspect;

impl Check for Aspect {
    const INFO: Info = Info {
        name: "aspect",
        summary: "The direction in which the ground of each subject falls, clockwise from true north.",
        dimension: Some(Dimension::Angle),
        parameters: &[GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let OnGround { grade, subjects, mut readings } = on_ground(ground)?;
        let aspects = ground.aspect(grade, &subjects);
        readings.extend(subjects.into_iter().zip(aspects).map(|(subject, aspect)| match aspect {
            Some(aspect) => Reading::amount(subject, aspect),
            None => Reading::not_applicable(subject, "its ground is level"),
        }));
        Ok(readings)
    }
}
