use groundrule_kit::{Check, Dimension, Ground, Info, LengthParameter, Reading, Refusal};

use crate::parameters::needed;
use crate::surface::{GRADE, each};

/// Slope break: the greatest change of slope along each subject.
///
/// # What it measures
/// Along the subject's line, or the middle of an outline, the difference in slope between two neighboring stretches,
/// each at least `stretch` long; a rise after a fall counts with both slopes.
///
/// # Why
/// Where the slope of a drive changes at once, a car scrapes its nose or its belly. A stretch between two breaks that is
/// shorter than a car carries both ends of it at once.
///
/// # Parameters
/// - `stretch`: how long a slope must last to count as one of its own. Needed.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A difference of slopes for each subject. Lacking where the plan has no levels of that ground, or too few along the
/// subject.
///
/// # Cautions
/// A curve between two slopes shows as breaks as sharp as its levels are far apart.
pub struct SlopeBreak;

const STRETCH: LengthParameter =
    LengthParameter::new("stretch", "How long a slope must last to count as one of its own; needed.");

impl Check for SlopeBreak {
    const INFO: Info = Info {
        name: "slope-break",
        summary: "The greatest change of slope along the line of each subject.",
        dimension: Some(Dimension::Ratio),
        parameters: &[STRETCH.info(), GRADE.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let stretch = needed(ground, &STRETCH)?;
        each(ground, |grade, lines| ground.slope_break(grade, lines, stretch))
    }
}
