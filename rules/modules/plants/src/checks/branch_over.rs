use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, Length, Need, Reading, Refusal, drawn_subjects,
};

/// Branch over a shrub: the height from the top of what grows under a tree to its lowest branch.
///
/// # What it measures
/// The stated `lowest_branch` of the subject less the stated `height` of each of the group `others` that grows under its
/// crown, taken half of its stated `spread` around the trunk.
///
/// # Why
/// A shrub that burns under a tree is a ladder into its crown.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each pair, less than zero where the shrub stands up into the branches, with the facts `below_height` (of
/// the shrub) and `other`. Not applicable when nothing of the group is under its crown. Lacking when a height, the lowest
/// branch or the crown is not stated.
///
/// # Cautions
/// Heights are over the ground at each plant; on a slope the branches on the uphill side hang lower.
pub struct BranchOver;

impl Check for BranchOver {
    const INFO: Info = Info {
        name: "branch-over",
        summary: "The height from the top of a shrub to the lowest branch of the tree over it.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["others"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (subjects, mut readings) = drawn_subjects(ground);
        let others = ground.group("others");
        let labels = ground.labels(&subjects);
        let spreads = ground.stated(&subjects, "spread");
        for ((tree, label), spread) in subjects.into_iter().zip(labels).zip(spreads) {
            let Some(spread) = spread else {
                let how = "state the diameter of its crown as `spread`";
                readings.push(Reading::lacking(tree, Need::new(format!("crown of {label}"), how)));
                continue;
            };
            let radius = ground.values(&[&spread]).first().and_then(|value| value.length());
            let under = ground.near(&[tree], &others, radius.map_or(Length::ZERO, |across| across * 0.5));
            if under.is_empty() {
                readings.push(Reading::not_applicable(tree, "nothing of the kind grows under its crown"));
            }
            readings.extend(under.into_iter().map(|(_, shrub)| over(ground, tree, shrub)));
        }
        Ok(readings)
    }
}

fn over<G: Ground>(ground: &G, tree: Feature, shrub: Feature) -> Reading<G::Amount> {
    let mut needs = Vec::new();
    let mut stated = |of: Feature, name: &str, words: &str| {
        let amount = ground.stated(&[of], name).pop().flatten();
        if amount.is_none() {
            let label = ground.labels(&[of]).concat();
            needs.push(Need::new(
                format!("{words} of {label}"),
                format!("measure it and state it as `{name}`"),
            ));
        }
        amount
    };
    let (branch, height) =
        (stated(tree, "lowest_branch", "lowest branch"), stated(shrub, "height", "height"));
    let both = branch.zip(height);
    let gap = both.as_ref().and_then(|(branch, height)| ground.subtract(&[(branch, height)]).pop());
    let reading = match (gap, both) {
        (Some(gap), Some((_, height))) => Reading::amount(tree, gap).shown("below_height", height),
        _ => Reading::new(tree, groundrule_kit::Answer::Lacking(needs)),
    };
    reading.to(shrub).text("other", ground.labels(&[shrub]).concat())
}
