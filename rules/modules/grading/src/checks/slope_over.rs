use groundrule_kit::{Check, Choice, Dimension, Figure, Ground, Info, Reading, Refusal};

use crate::surface::{GRADE, each};

/// Slope over: how steep the ground inside each subject is.
///
/// # What it measures
/// The slope of the ground at a place, however it is turned: its fall by horizontal distance in the direction of
/// steepest fall. Over the subject the least, the greatest, or the mean by area; the extremes leave out parts smaller
/// than a square foot.
///
/// # Why
/// Ground that is too flat stays wet; ground that is too steep cannot be mown, walked on or held by its plants.
///
/// # Parameters
/// - `figure`: `least`, `greatest` or `mean`. Without it, `mean`.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A slope for each subject. Lacking where the plan has no levels of that ground, or too few around the subject.
///
/// # Cautions
/// The ground is what the levels of the plan make it: a bank between two levels far apart is spread over the whole way
/// between them.
pub struct SlopeOver;

const FIGURE: Choice<Figure> = Choice::new(
    "figure",
    "Which slope: `least`, `greatest` or `mean`; `mean` when not given.",
    &[("least", Figure::Least), ("greatest", Figure::Greatest), ("mean", Figure::Mean)],
    Figure::Mean,
);

impl Check for SlopeOver {
    const INFO: Info = Info {
        name: "slope-over",
        summary: "The slope of the ground inside each subject, however it is turned.",
        dimension: Some(Dimension::Ratio),
        parameters: &[FIGURE.info(), GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let figure = FIGURE.read(ground)?;
        each(ground, |grade, subjects| ground.slope_over(grade, subjects, figure))
    }
}
