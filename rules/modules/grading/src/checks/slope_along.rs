use groundrule_kit::{
    Check, Choice, Dimension, Figure, Ground, Info, Length, LengthParameter, Reading, Refusal,
};

use crate::amounts::greatest;
use crate::surface::{GRADE, each};

/// Slope along: how the ground rises and falls along each subject.
///
/// # What it measures
/// The slope of the ground in the direction of the subject's line, or along the middle of an outline in its longer
/// direction. `steepest` and `flattest` are without a sign; `least`, `greatest` and `mean` count a fall in the direction
/// drawn as positive; `fall` is the least fall in whichever direction the line falls, less than nothing where it rises
/// somewhere on its way down.
///
/// # Why
/// What is walked, driven or run by water on is judged along its way: a walk that is too steep is a ramp, a swale that
/// is too flat a pond.
///
/// # Parameters
/// - `figure`: `steepest`, `flattest`, `least`, `greatest`, `mean` or `fall`. Without it, `steepest`.
/// - `from`, `to`: stations along the line between which it is taken. Without them, its ends.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A slope for each subject. Lacking where the plan has no levels of that ground, or too few along the subject.
///
/// # Cautions
/// Stretches shorter than a foot do not count. The middle of an outline that is not drawn along its way is not the way
/// one goes.
pub struct SlopeAlong;

/// Which slope of many.
#[derive(Clone, Copy)]
enum Asked {
    Figure(Figure),
    Fall,
}

const FIGURE: Choice<Asked> = Choice::new(
    "figure",
    "Which slope: `steepest`, `flattest`, `least`, `greatest`, `mean` or `fall`; `steepest` when not given.",
    &[
        ("steepest", Asked::Figure(Figure::Steepest)),
        ("flattest", Asked::Figure(Figure::Flattest)),
        ("least", Asked::Figure(Figure::Least)),
        ("greatest", Asked::Figure(Figure::Greatest)),
        ("mean", Asked::Figure(Figure::Mean)),
        ("fall", Asked::Fall),
    ],
    Asked::Figure(Figure::Steepest),
);
const FROM: LengthParameter =
    LengthParameter::new("from", "The station it is taken from; the start when not given.");
const TO: LengthParameter = LengthParameter::new("to", "The station it is taken to; the end when not given.");

impl Check for SlopeAlong {
    const INFO: Info = Info {
        name: "slope-along",
        summary: "The slope of the ground along the line of each subject.",
        dimension: Some(Dimension::Ratio),
        parameters: &[FIGURE.info(), FROM.info(), TO.info(), GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let figure = FIGURE.read(ground)?;
        let station = |parameter: &LengthParameter| Ok(parameter.read(ground)?.unwrap_or(Length::ZERO));
        let stations = (station(&FROM)?, station(&TO)?);
        if stations.1 > Length::ZERO && stations.0 >= stations.1 {
            return Err(Refusal::new(
                "parameter `from` is not before `to`; give the station nearer to the start first",
            ));
        }
        each(ground, |grade, lines| match figure {
            Asked::Figure(figure) => ground.slope_along(grade, lines, figure, stations),
            Asked::Fall => {
                // The least fall as drawn, or as drawn from the other end.
                let down = ground.slope_along(grade, lines, Figure::Least, stations);
                let up = ground.slope_along(grade, lines, Figure::Greatest, stations);
                let up = ground.scale(&up.iter().map(|slope| (slope, -1.0)).collect::<Vec<_>>());
                down.into_iter().zip(up).filter_map(|(down, up)| greatest(ground, &[down, up])).collect()
            }
        })
    }
}
