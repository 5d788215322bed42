use groundrule_kit::{Check, Dimension, Ground, Info, LengthParameter, Need, Reading, Refusal};

use crate::near::near;
use crate::stated::how_located;
use crate::zone::{Zone, margins};

/// Dig clearance: whether work stays out of the strip beside a line where only hands may dig.
///
/// # What it measures
/// The gap on the plan between the subject, where the ground is opened, and the outside of each of the group
/// `lines`, less the width of the strip on that side: `marked`, `record` or `guessed`, as the line's attribute
/// `located` says how its place is known. Less than zero by how far the work reaches into the strip. The accuracy
/// of both places goes into the answer.
///
/// # Why
/// Marks on the ground are good to a foot or two. Within that strip a machine or an auger finds the line by
/// breaking it; a spade finds it whole.
///
/// # Parameters
/// - `marked`: the strip each side of a line whose owner marked it on the ground. Needed.
/// - `record`: the strip of a line known from a record drawing. Without it, as `marked`.
/// - `guessed`: the strip of a line that somebody drew where it should be. Without it, as `record`.
/// - `reach`: how far to look for lines, a length well above the strips and the accuracy of the plan. Without it,
///   each subject is measured to every line.
///
/// # Answers
/// A length for each subject and line, with the facts `line` (what to call it), `located`, `gap` and `zone` (the
/// strip). Not applicable when no line is within reach. Lacking when a line within reach does not say how its place
/// is known, or one of the two is stated but not drawn.
///
/// # Cautions
/// The strip never ends the need to call before digging and to expose the line by hand. Depth does not enter here:
/// a line known to lie deep still has its strip. A line drawn without a width is as thick as its `diameter` says, and
/// thin where it says nothing.
pub struct DigClearance;

const REACH: LengthParameter =
    LengthParameter::new("reach", "How far to look for lines; all are measured to when not given.");

impl Check for DigClearance {
    const INFO: Info = Info {
        name: "dig-clearance",
        summary: "The gap between work in the ground and lines, less the strip to be dug by hand.",
        dimension: Some(Dimension::Length),
        parameters: &[Zone::MARKED.info(), Zone::RECORD.info(), Zone::GUESSED.info(), REACH.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let zone = Zone::read(ground)?;
        let near = near(ground, &ground.group("lines"), REACH.read(ground)?);
        let mut readings = near.without_pair(ground, "no line is within reach");
        let labels = ground.labels(&near.others());
        let all = near.pairs.iter().zip(margins(ground, &near, &zone)).zip(labels);
        readings.extend(all.map(|((&(subject, line), margin), label)| {
            let reading = match margin {
                Ok(margin) => Reading::amount(subject, margin.amount)
                    .text("located", margin.located)
                    .shown("gap", margin.gap)
                    .shown("zone", margin.zone),
                Err(word) => Reading::lacking(
                    subject,
                    Need::new(format!("how the place of {label} is known"), how_located(word.as_deref())),
                ),
            };
            reading.to(line).text("line", label)
        }));
        Ok(readings)
    }
}
