use groundrule_kit::{Check, Choice, Dimension, Figure, Ground, Info, Reading, Refusal};

use crate::parameters::LINE_FIGURES;
use crate::surface::{GRADE, each};

/// Slope across: how the ground falls square to the line of each subject.
///
/// # What it measures
/// The slope of the ground square to the subject's line, or to the longer direction of an outline. `steepest` and
/// `flattest` are without a sign; the others count a fall to the right of the line as positive.
///
/// # Why
/// A walk that tilts throws a wheelchair off its line, and one that does not tilt at all holds the rain.
///
/// # Parameters
/// - `figure`: `steepest`, `flattest`, `least`, `greatest` or `mean`. Without it, `steepest`.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A slope for each subject. Lacking where the plan has no levels of that ground, or too few at the subject.
///
/// # Cautions
/// Levels along one edge of a walk alone say nothing of its tilt; the surface then takes it from what lies beyond.
pub struct SlopeAcross;

const FIGURE: Choice<Figure> = Choice::new(
    "figure",
    "Which slope: `steepest`, `flattest`, `least`, `greatest` or `mean`; `steepest` when not given.",
    LINE_FIGURES,
    Figure::Steepest,
);

impl Check for SlopeAcross {
    const INFO: Info = Info {
        name: "slope-across",
        summary: "The slope of the ground square to the line of each subject.",
        dimension: Some(Dimension::Ratio),
        parameters: &[FIGURE.info(), GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let figure = FIGURE.read(ground)?;
        each(ground, |grade, lines| ground.slope_across(grade, lines, figure))
    }
}
