use std::collections::BTreeMap;

use groundrule_kit::{Answer, Check, Dimension, Feature, Ground, Info, Length, Need, Reading, Refusal};

use crate::lacking::plain;
use crate::parameters::Parameter;

/// Coverage agreement: the share of the lot that the sheet says is covered, less the share that is drawn so.
///
/// # What it measures
/// The stated share less the area that the group `covering` covers within the group `lots`, over the area of those lots.
/// A place that two features cover counts once. Zero where they agree; above zero where the sheet states more.
///
/// # Why
/// A table of areas is arithmetic by hand, made from an older drawing or by another definition more often than not.
///
/// # Parameters
/// - `figure`: the stated share, by its name under `[sheet]`: `building_coverage` or `hard_surface`.
///
/// # Answers
/// A ratio for each sheet, in points of the share, with the facts `stated` and `drawn`. Not applicable where no such
/// share is stated. Lacking when a lot, or anything that covers, is stated but not drawn.
///
/// # Cautions
/// What counts as covered is said by the row, in what it puts into `covering`, and differs from place to place. Both
/// figures may be right by their own definition.
pub struct CoverageAgreement;

const FIGURE: Parameter = Parameter::new("figure", "The stated share, by its name.");

impl Check for CoverageAgreement {
    const INFO: Info = Info {
        name: "coverage-agreement",
        summary: "The share of the lot stated as covered, less the share drawn so.",
        dimension: Some(Dimension::Ratio),
        parameters: &[FIGURE.info()],
        groups: &["covering", "lots"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let figure = FIGURE.text(ground)?.ok_or_else(|| FIGURE.needed("\"building_coverage\""))?;
        let sheets = ground.subjects();
        let stated = ground.stated(&sheets, &figure);
        let answers = sheets.iter().zip(stated).map(|(&sheet, stated)| {
            let Some(stated) = stated else {
                return Reading::not_applicable(sheet, format!("no {} is stated", plain(&figure)));
            };
            let Some(drawn) = covered_share(ground) else {
                let how = "Draw the lot by its corners, as its survey gives them.";
                return Reading::new(sheet, Answer::Lacking(vec![Need::new("area of the lot", how)]));
            };
            match ground.subtract(&[(&stated, &drawn)]).pop() {
                Some(off) => Reading::amount(sheet, off).shown("stated", stated).shown("drawn", drawn),
                None => Reading::not_applicable(sheet, "the two figures cannot be compared"),
            }
        });
        Ok(answers.collect())
    }
}

/// The share of all lots together that is covered; none where they have no area.
fn covered_share<G: Ground>(ground: &G) -> Option<G::Amount> {
    let (lots, covering) = (ground.group("lots"), ground.group("covering"));
    let mut on: BTreeMap<Feature, Vec<Feature>> = BTreeMap::new();
    for (lot, feature) in ground.near(&lots, &covering, Length::ZERO) {
        on.entry(lot).or_default().push(feature);
    }
    // What is not drawn is near nothing, and leaves the share of its lot open.
    let (_, undrawn) = groundrule_kit::drawn_or_not(ground, &covering);
    for (&feature, lot) in undrawn.iter().zip(ground.lot_of(&undrawn)) {
        if let Some(lot) = lot {
            on.entry(lot).or_default().push(feature);
        }
    }
    let covered: Vec<G::Amount> = lots
        .iter()
        .map(|lot| ground.covered(on.get(lot).map_or(&[][..], Vec::as_slice), Some(*lot)))
        .collect();
    let whole = ground.area(&lots);
    let (covered, whole) =
        (ground.sum(&covered.iter().collect::<Vec<_>>())?, ground.sum(&whole.iter().collect::<Vec<_>>())?);
    ground.ratio(&[(&covered, &whole)]).pop().flatten()
}
