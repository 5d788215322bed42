use std::collections::BTreeMap;

use groundrule_kit::{Check, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal};

use crate::lots::{only_ground, touching};

/// Yard share: how much of a required yard is built on.
///
/// # What it measures
/// The area that the group `covering` covers within the strip of the subject, a lot, that lies within `depth` of a line
/// of the group `lines`, over the area of that strip.
///
/// # Why
/// Sheds and garages are let into the rear yard because they are small; a share keeps the yard a yard.
///
/// # Parameters
/// - `depth`: how deep the required yard is. Needed.
///
/// # Answers
/// A ratio for each lot and line, with the facts `covered_area`, `yard_area` and `line`. Not applicable when the lot
/// has no such line. Lacking when the lot, or anything of the group on it, is stated but not drawn.
///
/// # Cautions
/// Some codes take the share of the yard as it is, from the house to the line, and not of the required one.
pub struct YardShare;

const DEPTH: LengthParameter = LengthParameter::new("depth", "How deep the required yard is; needed.");

impl Check for YardShare {
    const INFO: Info = Info {
        name: "yard-share",
        summary: "The share of a required yard that a group of features covers.",
        dimension: Some(Dimension::Ratio),
        parameters: &[DEPTH.info()],
        groups: &["covering", "lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let Some(depth) = DEPTH.read(ground)? else {
            return Err(Refusal::new(
                "parameter `depth` is not given; give the depth of the yard, such as \"25 ft\"",
            ));
        };
        let lots = ground.subjects();
        only_ground(ground, Self::INFO.name, &lots)?;
        let on = touching(ground, &lots, &ground.group("covering"));
        let mut readings = Vec::new();
        let lines = ground.group("lines");
        let mut of: BTreeMap<Feature, Vec<Feature>> = BTreeMap::new();
        for (&line, lot) in lines.iter().zip(ground.lot_of(&lines)) {
            of.entry(lot.unwrap_or(line)).or_default().push(line);
        }
        for lot in lots {
            let own = of.get(&lot).map_or(&[][..], Vec::as_slice);
            if own.is_empty() {
                let label = ground.labels(&[lot]).concat();
                let why = format!("{label} has no line of the kind asked about");
                readings.push(Reading::not_applicable(lot, why));
            }
            let there = on.get(&lot).map_or(&[][..], Vec::as_slice);
            let strips = ground.strip(own, depth);
            for (&line, strip) in own.iter().zip(strips) {
                readings.push(share(ground, lot, line, strip, there));
            }
        }
        Ok(readings)
    }
}

fn share<G: Ground>(
    ground: &G,
    lot: Feature,
    line: Feature,
    strip: Option<Feature>,
    there: &[Feature],
) -> Reading<G::Amount> {
    let label = ground.labels(&[line]).concat();
    let measured = strip.and_then(|strip| {
        let whole = ground.area(&[strip]).pop()?;
        let covered = ground.covered(there, Some(strip));
        let share = ground.ratio(&[(&covered, &whole)]).pop()??;
        Some((share, covered, whole))
    });
    match measured {
        Some((share, covered, whole)) => Reading::amount(lot, share)
            .to(line)
            .text("line", label)
            .shown("covered_area", covered)
            .shown("yard_area", whole),
        None => Reading::lacking(
            lot,
            Need::new(format!("yard along {label}"), "draw the lot by its corners, as its survey gives them"),
        )
        .to(line),
    }
}
