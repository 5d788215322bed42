use std::collections::BTreeSet;

use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal, drawn_subjects,
    in_no_pair,
};

/// Crown gap: the gap between the crowns of two trees, and how far they stand from the house.
///
/// # What it measures
/// The gap between the subject and each of the group `others` within reach, less half of the crown's diameter of each
/// that is drawn at its trunk: `mature_spread`, else `spread`. What is drawn by its outline counts as drawn. Each pair
/// once. Beside it, the distance from the subject to the nearest of the group `house`.
///
/// # Why
/// Fire that runs from crown to crown cannot be stopped from the ground. Gaps let it drop.
///
/// # Parameters
/// - `reach`: how far to look from trunk to trunk, well above the limit and the widest crowns. Needed.
///
/// # Answers
/// A length for each pair, less than zero where crowns meet, with the facts `house_distance` and `other`. Not applicable
/// when none is within reach. Lacking when the crown of either is not stated.
///
/// # Cautions
/// Crowns are measured as grown where that is stated; a tree pruned smaller gives a wider gap until it grows.
pub struct CrownGap;

const REACH: LengthParameter = LengthParameter::new("reach", "How far to look, from trunk to trunk; needed.");

impl Check for CrownGap {
    const INFO: Info = Info {
        name: "crown-gap",
        summary: "The gap between the crowns of trees, with their distance to the house.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info()],
        groups: &["house", "others"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let Some(reach) = REACH.read(ground)? else {
            return Err(Refusal::new(
                "parameter `reach` is not given; give how far to look, such as \"60 ft\"",
            ));
        };
        let (subjects, mut readings) = drawn_subjects(ground);
        let found = ground.near(&subjects, &ground.group("others"), reach);
        let all: BTreeSet<(Feature, Feature)> = found.iter().copied().collect();
        let once = |(a, b): &(Feature, Feature)| a < b || !all.contains(&(*b, *a));
        let pairs: Vec<(Feature, Feature)> = found.into_iter().filter(once).collect();
        for subject in in_no_pair(&subjects, &pairs) {
            readings.push(Reading::not_applicable(
                subject,
                "each gap is told from the other tree, or none is near",
            ));
        }
        let house = ground.group("house");
        for (pair, gap) in pairs.iter().copied().zip(ground.clearance(&pairs)) {
            readings.push(between(ground, pair, gap, &house));
        }
        Ok(readings)
    }
}

fn between<G: Ground>(
    ground: &G,
    (a, b): (Feature, Feature),
    gap: G::Amount,
    house: &[Feature],
) -> Reading<G::Amount> {
    let mut needs = Vec::new();
    let mut gap = Some(gap);
    let spots = ground.shapes(&[a, b]);
    for (tree, shape) in [a, b].into_iter().zip(spots) {
        if shape != groundrule_kit::Shape::Spot {
            continue;
        }
        let stated = |name: &str| ground.stated(&[tree], name).pop().flatten();
        match stated("mature_spread").or_else(|| stated("spread")) {
            Some(spread) => {
                let radius = ground.scale(&[(&spread, 0.5)]).pop();
                gap = gap.zip(radius).and_then(|(gap, radius)| ground.subtract(&[(&gap, &radius)]).pop());
            }
            None => needs.push(Need::new(
                format!("crown of {}", ground.labels(&[tree]).concat()),
                "state the diameter of its crown as `spread`, or as `mature_spread` when grown",
            )),
        }
    }
    let reading = match gap {
        Some(gap) if needs.is_empty() => Reading::amount(a, gap),
        _ => Reading::new(a, groundrule_kit::Answer::Lacking(needs)),
    };
    let to: Vec<(Feature, Feature)> = house.iter().map(|&house| (a, house)).collect();
    let distances = ground.between(&to);
    let nearest = ground.least(&distances.iter().collect::<Vec<_>>());
    let reading = reading.to(b).text("other", ground.labels(&[b]).concat());
    match nearest {
        Some(nearest) => reading.shown("house_distance", nearest),
        None => reading,
    }
}
