use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::lines::{lines, pairs};

/// Eave projection: how far the roof reaches into the yard beside it.
///
/// # What it measures
/// The stated `eave` of the subject, with the wall's own distance to each line of the group `lines` and what is left
/// between eave and line beside it, for the row's limit to be a share of the yard.
///
/// # Why
/// Many codes let a roof reach a little into a yard, so many inches for each foot of yard, because it shelters the
/// wall; near the line it would drip on the neighbor and carry fire across.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject and line, with the facts `yard` (wall to line), `left` (eave to line) and `line`. Lacking
/// when the eave is not stated, or the subject has no lot.
///
/// # Cautions
/// It takes the eave to reach as far on every side; state the widest. Gutters count in some codes.
pub struct EaveProjection;

impl Check for EaveProjection {
    const INFO: Info = Info {
        name: "eave-projection",
        summary: "The eave of each subject, with the yard it reaches into.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let lines = lines(ground);
        let mut readings = lines.answered;
        let pairs = pairs(&lines.known);
        let subjects: Vec<_> = pairs.iter().map(|pair| pair.0).collect();
        let others: Vec<_> = pairs.iter().map(|pair| pair.1).collect();
        let eaves = ground.stated(&subjects, "eave");
        let yards = ground.yard(&pairs);
        let labels = ground.labels(&others);
        for ((((subject, line), eave), yard), label) in pairs.into_iter().zip(eaves).zip(yards).zip(labels) {
            let left = eave.as_ref().and_then(|eave| ground.subtract(&[(&yard, eave)]).pop());
            readings.push(match (eave, left) {
                (Some(eave), Some(left)) => Reading::amount(subject, eave)
                    .to(line)
                    .text("line", label)
                    .shown("left", left)
                    .shown("yard", yard),
                _ => Reading::lacking(
                    subject,
                    Need::new(
                        format!("eave of {}", ground.labels(&[subject]).concat()),
                        "state how far the roof reaches beyond the wall as `eave`; \"0\" when it does not",
                    ),
                )
                .to(line),
            });
        }
        Ok(readings)
    }
}
