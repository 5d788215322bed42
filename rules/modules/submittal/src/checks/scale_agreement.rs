use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::agreement::share;

/// Scale agreement: the scale a sheet was printed at, over the scale it states.
///
/// # What it measures
/// The length on the ground that an inch on the paper stands for, by a dimension taken off the print with a ruler, over
/// the same by the stated scale. 1 where they agree; 0.8 where 1 in stands for 16 ft and 1 in = 20 ft is stated.
///
/// # Why
/// A sheet is printed smaller to fit, photographed, copied. Whoever then measures it with a scale reads every yard
/// wrong by the same share.
///
/// # Parameters
/// None.
///
/// # Answers
/// A ratio for each sheet, with the facts `inch_printed` and `inch_stated`. Not applicable where no scale is stated, or
/// no dimension was taken off the print.
///
/// # Cautions
/// Paper shrinks and copies stretch one way more than the other: one dimension says nothing of the other direction.
pub struct ScaleAgreement;

impl Check for ScaleAgreement {
    const INFO: Info = Info {
        name: "scale-agreement",
        summary: "The scale a sheet was printed at, over the scale it states.",
        dimension: Some(Dimension::Ratio),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let sheets = ground.subjects();
        let figures =
            ground.stated(&sheets, "inch_printed").into_iter().zip(ground.stated(&sheets, "inch_stated"));
        let answers = sheets.iter().zip(figures).map(|(&sheet, figures)| match figures {
            (_, None) => Reading::not_applicable(sheet, "no scale is stated"),
            (None, _) => Reading::not_applicable(sheet, "no dimension was taken off the print"),
            (Some(printed), Some(stated)) => {
                share(ground, sheet, ("inch_printed", printed), ("inch_stated", stated), || {
                    Need::new("a stated scale", "State the scale of the sheet as `scale` under [sheet].")
                })
            }
        });
        Ok(answers.collect())
    }
}
