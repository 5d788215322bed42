use groundrule_kit::{
    Check, Dimension, Feature, Figure, Ground, Info, Need, Reading, Refusal, drawn_or_not, not_drawn,
};

use crate::amounts::{known, label, less};
use crate::levels::{OF, named, stated};
use crate::surface::{GRADE, on_ground};

/// Level over mark: how far a stated level of each subject stands over the nearest of some marks.
///
/// # What it measures
/// The level that the plan states of the subject under the name `of`, less the greatest level of the ground along the
/// nearest of the group `marks`: a curb at its gutter, an inlet.
///
/// # Why
/// A house whose floor or foundation stands over the gutter of its street drains to it by itself, and stays dry when
/// the street runs full.
///
/// # Parameters
/// - `of`: the level, as the plan file calls it: `floor_level`, `foundation_level`. Needed.
/// - `grade`: `proposed` or `existing`. Without it, `proposed`.
///
/// # Answers
/// A length for each subject, with the fact `distance` to the mark. Lacking where there is no mark, the level is not
/// stated, or the plan has no levels there.
///
/// # Cautions
/// The nearest mark need not be the one the water of the lot runs to.
pub struct LevelOverMark;

impl Check for LevelOverMark {
    const INFO: Info = Info {
        name: "level-over-mark",
        summary: "How far a stated level of each subject stands over the nearest of some marks.",
        dimension: Some(Dimension::Length),
        parameters: &[OF, GRADE.info()],
        groups: &["marks"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let of = named(ground)?;
        let (marks, undrawn) = drawn_or_not(ground, &ground.group("marks"));
        let on = on_ground(ground)?;
        let mut readings = on.readings;
        for subject in on.subjects {
            let Some((mark, distance)) = nearest(ground, subject, &marks) else {
                let needs = undrawn.iter().map(|mark| not_drawn(&label(ground, *mark))).next();
                let none = || {
                    Need::new("the mark it is measured from", "draw the curb or the inlet with its levels")
                };
                readings.push(Reading::lacking(subject, needs.unwrap_or_else(none)));
                continue;
            };
            let level = ground.level(on.grade, &[mark], Figure::Greatest).pop();
            let reading = match (stated(ground, subject, &of), level) {
                (Ok(stated), Some(level)) => less(ground, &stated, &level)
                    .map_or_else(|| no_level(subject), |over| Reading::amount(subject, over)),
                (Ok(_), None) => no_level(subject),
                (Err(need), _) => Reading::lacking(subject, need),
            };
            readings.push(reading.to(mark).shown("distance", distance));
        }
        Ok(readings)
    }
}

fn no_level<A>(subject: Feature) -> Reading<A> {
    Reading::lacking(subject, Need::new("the level of the mark", "take the level of the ground there"))
}

/// The nearest of some features, with its distance.
fn nearest<G: Ground>(ground: &G, subject: Feature, marks: &[Feature]) -> Option<(Feature, G::Amount)> {
    let pairs: Vec<(Feature, Feature)> = marks.iter().map(|&mark| (subject, mark)).collect();
    let distances = ground.between(&pairs);
    let far = |amount: &G::Amount| known(ground, amount).unwrap_or(f64::INFINITY);
    marks.iter().copied().zip(distances).min_by(|(_, a), (_, b)| far(a).total_cmp(&far(b)))
}
