use std::collections::{BTreeMap, BTreeSet};

use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Length, Reading, Refusal, by_lot};

use crate::corners::corners;

/// Drive to corner: how far the mouth of a drive is from the street corner of its lot.
///
/// # What it measures
/// For each subject, a drive that reaches one of two lines of the group `lines` that meet at a corner: its distance to the
/// other of the two.
///
/// # Why
/// A car that turns off close behind a corner stops where those who come round the corner do not expect it.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each drive and corner, with the fact `street` where the line reached names one. Not applicable when its
/// lot has no corner of two such lines, or it reaches neither of them.
///
/// # Cautions
/// Street departments measure along the curb, from where the curbs would meet; that is farther than the lot line says on a
/// rounded corner.
pub struct DriveToCorner;

/// A line no longer than this between two streets is the cut or the curve of their corner.
const CUT: Length = Length::from_feet(40.0);
/// A drive that ends this near to a line reaches it.
const SHORT: Length = Length::from_feet(1.0);

impl Check for DriveToCorner {
    const INFO: Info = Info {
        name: "drive-to-corner",
        summary: "The distance from the mouth of each drive to the street corner of its lot.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let drives = ground.subjects();
        let lines = ground.group("lines");
        let reached: BTreeSet<(Feature, Feature)> = ground.near(&drives, &lines, SHORT).into_iter().collect();
        let mut meets: BTreeMap<Feature, Vec<Feature>> = BTreeMap::new();
        for (a, b) in corners(ground, CUT) {
            meets.entry(a).or_default().push(b);
            meets.entry(b).or_default().push(a);
        }
        let mut readings = Vec::new();
        for on in by_lot(ground, &drives, &lines) {
            let own = on.others.iter().copied().filter(|&line| reached.contains(&(on.subject, line)));
            let others =
                |line: Feature| meets.get(&line).into_iter().flatten().map(move |&other| (line, other));
            let pairs: Vec<(Feature, Feature)> = own.flat_map(others).collect();
            if pairs.is_empty() {
                readings.push(Reading::not_applicable(
                    on.subject,
                    "it opens onto no street that meets another here",
                ));
            }
            let measured: Vec<_> = pairs.iter().map(|&(_, other)| (on.subject, other)).collect();
            let owns: Vec<Feature> = pairs.iter().map(|pair| pair.0).collect();
            let streets = ground.texts(&owns, "street");
            let away = ground.yard(&measured);
            for (((drive, line), away), street) in measured.into_iter().zip(away).zip(streets) {
                readings.push(Reading::amount(drive, away).to(line).text_if("street", street));
            }
        }
        Ok(readings)
    }
}
