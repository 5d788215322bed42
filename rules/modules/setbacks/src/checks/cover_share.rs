use groundrule_kit::{Check, Dimension, Ground, Info, Need, Reading, Refusal};

use crate::lots::{only_ground, touching};

/// Cover share: how much of a lot a group of features covers.
///
/// # What it measures
/// The area that the group `covering` covers within the subject, a lot or another area such as a strip along a
/// shore, over the area of the subject. A place that two features cover counts once, and what lies beyond the
/// subject's edge does not count. Buildings in
/// the group give the lot coverage; buildings with drives, walks and patios give the hard surface share.
///
/// # Why
/// Open ground takes up rain, keeps a lot from flooding its neighbors and leaves soil for trees; a limit on
/// coverage also holds down the bulk of building.
///
/// # Parameters
/// None: whether water, gravel, decks or eaves count is said by the row, in what it puts into `covering`.
///
/// # Answers
/// A ratio for each lot, with the facts `covered_area` and `lot_area`. Zero for a lot that nothing covers. Lacking
/// when the lot, or anything of the group on it, is stated but not drawn.
///
/// # Cautions
/// Codes differ on what counts as covered or as hard. The area of a lot is that of its drawn lines; where the
/// deed or a survey states another, that one governs.
pub struct CoverShare;

impl Check for CoverShare {
    const INFO: Info = Info {
        name: "cover-share",
        summary: "The share of each lot that a group of features covers.",
        dimension: Some(Dimension::Ratio),
        parameters: &[],
        groups: &["covering"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let lots = ground.subjects();
        only_ground(ground, Self::INFO.name, &lots)?;
        let on = touching(ground, &lots, &ground.group("covering"));

        let covered: Vec<G::Amount> = lots
            .iter()
            .map(|lot| ground.covered(on.get(lot).map_or(&[][..], Vec::as_slice), Some(*lot)))
            .collect();
        let whole = ground.area(&lots);
        let terms: Vec<(&G::Amount, &G::Amount)> = covered.iter().zip(&whole).collect();
        let shares = ground.ratio(&terms);
        let labels = ground.labels(&lots);
        Ok(lots
            .into_iter()
            .zip(shares)
            .zip(covered.into_iter().zip(whole))
            .zip(labels)
            .map(|(((lot, share), (covered, whole)), label)| match share {
                Some(share) => {
                    Reading::amount(lot, share).shown("covered_area", covered).shown("lot_area", whole)
                }
                None => Reading::lacking(
                    lot,
                    Need::new(
                        format!("area of {label}"),
                        "draw the lot by its corners, as its survey gives them",
                    ),
                ),
            })
            .collect())
    }
}
