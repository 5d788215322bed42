use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, LengthParameter, Reading, Refusal, drawn_subjects, in_no_pair,
};

use crate::heights::{Side, greatest, heights};

/// Height on a wall: how high a fence and the retaining wall it stands on are together.
///
/// # What it measures
/// The height of the subject, a fence, over the ground it stands on plus the height of each of the group `walls` that it
/// stands on or beside, within `reach`.
///
/// # Why
/// From below, a fence on a wall is one face. It shades, looms and can be fallen from like one.
///
/// # Parameters
/// - `reach`: how far off a wall still counts as the one it stands on, such as `1 ft`. Without it, the two must touch.
///
/// # Answers
/// A length for each fence and wall, with the facts `fence_height` and `wall_height`. Not applicable when it stands on
/// none. Lacking when either height is not stated.
///
/// # Cautions
/// The height of the wall is what shows of it from the lower side. Walls are for licensed engineers.
pub struct HeightOnWall;

const REACH: LengthParameter = LengthParameter::new(
    "reach",
    "How far off a wall still counts as the one it stands on; touching when not given.",
);

impl Check for HeightOnWall {
    const INFO: Info = Info {
        name: "height-on-wall",
        summary: "The height of each fence together with the wall it stands on.",
        dimension: Some(Dimension::Length),
        parameters: &[REACH.info()],
        groups: &["walls"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let reach = REACH.read(ground)?.unwrap_or_default();
        let (subjects, mut readings) = drawn_subjects(ground);
        let pairs = ground.near(&subjects, &ground.group("walls"), reach);
        for subject in in_no_pair(&subjects, &pairs) {
            readings.push(Reading::not_applicable(subject, "it stands on no wall"));
        }
        readings.extend(pairs.into_iter().map(|(fence, wall)| together(ground, fence, wall)));
        Ok(readings)
    }
}

fn together<G: Ground>(ground: &G, fence: Feature, wall: Feature) -> Reading<G::Amount> {
    let mut heights = heights(ground, &[fence, wall], Side::High).into_iter();
    let mut needs = Vec::new();
    let mut next = || match heights.next()?.map(|all| greatest(ground, all)) {
        Ok(found) => found.map(|found| found.height),
        Err(need) => {
            needs.push(need);
            None
        }
    };
    let (of_fence, of_wall) = (next(), next());
    match of_fence.zip(of_wall) {
        Some((of_fence, of_wall)) => match ground.sum(&[&of_fence, &of_wall]) {
            Some(sum) => Reading::amount(fence, sum)
                .to(wall)
                .shown("fence_height", of_fence)
                .shown("wall_height", of_wall),
            None => Reading::not_applicable(fence, "it stands on no wall"),
        },
        None => Reading::new(fence, groundrule_kit::Answer::Lacking(needs)).to(wall),
    }
}
