use groundrule_kit::{Check, Choice, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::lines::{lines, pairs};

/// Height by line: how high a thing is, with how far it stands from a lot line.
///
/// # What it measures
/// The stated height of the subject, with its distance to each line of the group `lines` of its own lot beside it,
/// for a limit that grows with the distance: a sloping plane over the yard, or a taller plant farther from the line.
///
/// # Why
/// What is tall and near the line takes the light of the neighbor; what is as tall and farther off does not.
///
/// # Parameters
/// - `of`: `height` takes the stated `height`, `mature_height` that of a grown plant, and its height now where no
///   mature one is stated. Without it, `height`.
///
/// # Answers
/// A length for each subject and line, with the facts `distance` and `line`. Lacking when the height is not stated,
/// or the subject has no lot or is not drawn. Not applicable when the lot has no such line.
///
/// # Cautions
/// Height is over the ground beside the thing. Where a code counts from another level, state the height from there. A
/// trunk is measured at its middle.
pub struct HeightByLine;

#[derive(Clone, Copy, PartialEq)]
enum Of {
    Height,
    Mature,
}

const OF: Choice<Of> = Choice::new(
    "of",
    "Which height: `height` or `mature_height`; `height` when not given.",
    &[("height", Of::Height), ("mature_height", Of::Mature)],
    Of::Height,
);

impl Check for HeightByLine {
    const INFO: Info = Info {
        name: "height-by-line",
        summary: "The height of each subject, with its distance to lines of its own lot.",
        dimension: Some(Dimension::Length),
        parameters: &[OF.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let of = OF.read(ground)?;
        let lines = lines(ground);
        let mut readings = lines.answered;
        let pairs = pairs(&lines.known);
        let subjects: Vec<_> = pairs.iter().map(|pair| pair.0).collect();
        let others: Vec<_> = pairs.iter().map(|pair| pair.1).collect();
        let now = ground.stated(&subjects, "height");
        let heights: Vec<Option<G::Amount>> = match of {
            Of::Height => now,
            Of::Mature => {
                let grown = ground.stated(&subjects, "mature_height");
                grown.into_iter().zip(now).map(|(grown, now)| grown.or(now)).collect()
            }
        };
        let distances = ground.yard(&pairs);
        let labels = ground.labels(&others);
        let all = pairs.into_iter().zip(heights).zip(distances).zip(labels);
        readings.extend(all.map(|((((subject, line), height), distance), label)| match height {
            Some(height) => {
                Reading::amount(subject, height).to(line).text("line", label).shown("distance", distance)
            }
            None => Reading::lacking(
                subject,
                Need::new(
                    format!("height of {}", ground.labels(&[subject]).concat()),
                    "state its height over the ground beside it as `height`; of a plant, when grown, as `mature_height`",
                ),
            )
            .to(line),
        }));
        Ok(readings)
    }
}
