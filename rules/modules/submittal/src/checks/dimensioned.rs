use groundrule_kit::{Answer, Check, Feature, Ground, Info, Need, Reading, Refusal, by_lot};

use crate::lacking::{named, undrawn};

/// Dimensioned: whether the distances that a list asks for can be told from the plan.
///
/// # What it measures
/// For each of the group `things`, the shortest distance to each of the group `others` on the same lot, itself left out.
///
/// # Why
/// The most frequent correction of all is that a yard cannot be verified, because nothing says how wide it is.
///
/// # Parameters
/// None.
///
/// # Answers
/// Yes for each subject, with the facts `distances` (how many can be told) and `least` (the shortest). Lacking the
/// outline of what is not drawn, or the lot of what is on none. Not applicable where nothing is left to measure to.
///
/// # Cautions
/// That a distance can be told does not say how well; each rule about a yard gives its own accuracy.
pub struct Dimensioned;

impl Check for Dimensioned {
    const INFO: Info = Info {
        name: "dimensioned",
        summary: "Whether the distances from things to others can be told from the plan.",
        dimension: None,
        parameters: &[],
        groups: &["others", "things"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (things, others) = (ground.group("things"), ground.group("others"));
        let mut all: Vec<Feature> = things.iter().chain(&others).copied().collect();
        all.sort();
        all.dedup();
        let beside = by_lot(ground, &things, &others);
        let mut needs: Vec<Need> = undrawn(ground, &all).into_iter().collect();
        let lotless: Vec<Feature> =
            beside.iter().filter(|it| it.lot.is_none()).map(|it| it.subject).collect();
        if !lotless.is_empty() {
            let labels = named(&ground.labels(&lotless));
            needs.push(Need::new(
                format!("the lot that {labels} stands on"),
                format!("Draw the lot around it, or say `lot = ...` on {labels}."),
            ));
        }
        // Each pair once, whichever way round it comes.
        let mut pairs: Vec<(Feature, Feature)> = beside
            .iter()
            .flat_map(|it| it.others.iter().map(|&other| (it.subject.min(other), it.subject.max(other))))
            .collect();
        pairs.sort();
        pairs.dedup();
        let subjects = ground.subjects().into_iter();
        if !needs.is_empty() {
            return Ok(subjects.map(|it| Reading::new(it, Answer::Lacking(needs.clone()))).collect());
        }
        let count = u32::try_from(pairs.len()).unwrap_or(u32::MAX);
        let distances = ground.between(&pairs);
        let told = |subject: Feature| match ground.least(&distances.iter().collect::<Vec<_>>()) {
            Some(least) => {
                Reading::new(subject, Answer::Truth(true)).counted("distances", count).shown("least", least)
            }
            None => Reading::not_applicable(subject, "there is nothing else to measure to"),
        };
        Ok(subjects.map(told).collect())
    }
}
