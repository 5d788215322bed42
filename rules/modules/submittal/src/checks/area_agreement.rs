use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal, not_drawn};

use crate::agreement::share;

/// Area agreement: the area stated of a thing, over the area it is drawn with.
///
/// # What it measures
/// `stated_area` of each subject over the area of its outline. 1 where they agree.
///
/// # Why
/// Coverage, fees and the size at which a permit is needed all go by areas. A text that does not fit the drawing leaves
/// open which of the two was meant.
///
/// # Parameters
/// None.
///
/// # Answers
/// A ratio for each subject, with the facts `stated` and `drawn`. Not applicable to a subject of which no area is stated;
/// lacking for one that is not drawn.
///
/// # Cautions
/// An area in acres to two places hides 218 sq ft either way. The figure of a survey or of the record governs over the
/// drawing.
pub struct AreaAgreement;

impl Check for AreaAgreement {
    const INFO: Info = Info {
        name: "area-agreement",
        summary: "The area stated of each subject, over the area it is drawn with.",
        dimension: Some(Dimension::Ratio),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let subjects = ground.subjects();
        let figures = ground.stated(&subjects, "stated_area").into_iter().zip(ground.area(&subjects));
        let figures = figures.zip(ground.labels(&subjects));
        let answers = subjects.iter().zip(figures).map(|(&subject, ((stated, drawn), label))| match stated {
            None => Reading::not_applicable(subject, "no area is stated of it"),
            Some(stated) => {
                share(ground, subject, ("stated", stated), ("drawn", drawn), || not_drawn(&label))
            }
        });
        Ok(answers.collect())
    }
}
