use groundrule_kit::{Check, Dimension, Ground, Info, Reading, Refusal};

/// Arrow agreement: how far the drawn north arrow points from the north that the plan's bearings count from.
///
/// # What it measures
/// The angle between the two, whichever way round is shorter.
///
/// # Why
/// Shade, wind and the call of a deed all hang on north. An arrow drawn for looks sends them the wrong way round.
///
/// # Parameters
/// None.
///
/// # Answers
/// An angle for each sheet. Not applicable where no arrow is drawn, or where the plan does not say where north is.
///
/// # Cautions
/// A compass points up to 20 degrees off true north, and the north of a map grid lies up to 2 degrees off it.
pub struct ArrowAgreement;

impl Check for ArrowAgreement {
    const INFO: Info = Info {
        name: "arrow-agreement",
        summary: "How far the drawn north arrow points from the plan's north.",
        dimension: Some(Dimension::Angle),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let sheets = ground.subjects();
        let off = ground.stated(&sheets, "arrow_off_north").into_iter().zip(ground.fact(&sheets, "arrow"));
        let answers = sheets.iter().zip(off).map(|(&sheet, figures)| match figures {
            (Some(off), _) => Reading::amount(sheet, off),
            (None, None) => Reading::not_applicable(sheet, "no north arrow is drawn"),
            (None, Some(_)) => Reading::not_applicable(sheet, "the plan does not say where north is"),
        });
        Ok(answers.collect())
    }
}
