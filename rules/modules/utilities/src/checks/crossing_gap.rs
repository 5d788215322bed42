use groundrule_kit::{Check, Dimension, Ground, Info, Length, Need, Reading, Refusal};

use crate::near::{known, near};
use crate::stated::{COVER, stated};

/// Crossing gap: how far the underside of each subject lies above the top of a line it crosses.
///
/// # What it measures
/// The `cover` of the other, less the `cover` and the outside `diameter` of the subject, for each of the group
/// `others` that the subject crosses or joins on the plan; less than zero where the subject lies lower than that.
/// The errors of the three stated lengths go into the answer.
///
/// # Why
/// Where a clean pipe crosses a foul one, the clean one lies above, with earth between, so that a leak drains away
/// from it and a repair of the one does not break the other.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each crossing, with the facts `other` (what to call it), `cover` (of the subject) and `other_cover`.
/// Not applicable when the subject crosses nothing of the group. Lacking when a cover or the subject's diameter is
/// not stated, or one of the two is stated but not drawn.
///
/// # Cautions
/// Both covers are taken under the same ground; where the ground slopes or was filled, they differ over the length
/// of a line. A stated cover is no evidence that it is safe to dig.
pub struct CrossingGap;

impl Check for CrossingGap {
    const INFO: Info = Info {
        name: "crossing-gap",
        summary: "How far the underside of each subject lies above the top of a line it crosses.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &["others"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let others = ground.group("others");
        let mut near = near(ground, &others, Some(Length::ZERO));
        // Within nothing of each other on the plan, or not to be told: the latter lacks its outline.
        let plan = ground.clearance(&near.pairs);
        let values = known(ground, &plan);
        let mut readings = near.without_pair(ground, "it crosses no such line");

        let pairs = std::mem::take(&mut near.pairs);
        let mut crossing = Vec::new();
        for ((pair, value), clearance) in pairs.into_iter().zip(values).zip(plan) {
            match value {
                Some(_) => crossing.push(pair),
                None => readings.push(Reading::amount(pair.0, clearance).to(pair.1)),
            }
        }
        near.pairs = crossing;
        let (subjects, others) = (near.subjects(), near.others());
        let covers = stated(ground, &subjects, "cover", COVER);
        let sizes =
            stated(ground, &subjects, "diameter", "state its outside diameter, as its maker gives it");
        let others_covers = stated(ground, &others, "cover", COVER);
        let labels = ground.labels(&others);
        let all =
            near.pairs.iter().zip(covers.into_iter().zip(sizes)).zip(others_covers.into_iter().zip(labels));
        readings.extend(all.map(|((&(subject, other), (cover, size)), (other_cover, label))| {
            let reading = match gap(ground, cover, size, other_cover) {
                Ok((gap, cover, other_cover)) => {
                    Reading::amount(subject, gap).shown("cover", cover).shown("other_cover", other_cover)
                }
                Err(needs) => Reading::new(subject, groundrule_kit::Answer::Lacking(needs)),
            };
            reading.to(other).text("other", label)
        }));
        Ok(readings)
    }
}

/// A gap with the two covers it rests on.
type Gap<Amount> = (Amount, Amount, Amount);

/// The gap with the two covers it rests on, or everything that is lacking for it.
fn gap<G: Ground>(
    ground: &G,
    cover: Result<G::Amount, Need>,
    size: Result<G::Amount, Need>,
    other_cover: Result<G::Amount, Need>,
) -> Result<Gap<G::Amount>, Vec<Need>> {
    match (cover, size, other_cover) {
        (Ok(cover), Ok(size), Ok(other_cover)) => {
            let underside = ground.add(&[(&cover, &size)]);
            let terms: Vec<(&G::Amount, &G::Amount)> =
                underside.iter().map(|underside| (&other_cover, underside)).collect();
            match ground.subtract(&terms).pop() {
                Some(gap) => Ok((gap, cover, other_cover)),
                None => Err(Vec::new()),
            }
        }
        (cover, size, other_cover) => {
            Err([cover.err(), size.err(), other_cover.err()].into_iter().flatten().collect())
        }
    }
}
