use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Need, Reading, Refusal};

/// Building height over mean ground: how far the ridge stands above the ground around a building.
///
/// # What it measures
/// The stated `ridge_level` less the mean of the stated `ground_levels`, the levels of the ground at the middle of each
/// side of the smallest rectangle around the building, all over one benchmark.
///
/// # Why
/// On sloping ground a building has no single height. Taking the mean of the ground at its four sides lets the uphill
/// side and the downhill side both count, and cannot be gamed by where one stands.
///
/// # Parameters
/// None.
///
/// # Answers
/// A length for each subject, with the fact `mean_ground`, a level. Lacking when the ridge's level or any level of the
/// ground is not stated.
///
/// # Cautions
/// Codes differ: some count to the mean of eave and ridge, some from the lowest corner, some from the ground as it was
/// before the work. State the levels that the local text asks for.
pub struct BuildingHeight;

impl Check for BuildingHeight {
    const INFO: Info = Info {
        name: "building-height",
        summary: "The level of each subject's ridge over the mean of the ground at its sides.",
        dimension: Some(Dimension::Length),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let subjects = ground.subjects();
        let ridges = ground.stated(&subjects, "ridge_level");
        let levels = ground.stated_each(&subjects, "ground_levels");
        let all = subjects.into_iter().zip(ridges).zip(levels);
        Ok(all.map(|((subject, ridge), levels)| height(ground, subject, ridge, &levels)).collect())
    }
}

fn height<G: Ground>(
    ground: &G,
    subject: Feature,
    ridge: Option<G::Amount>,
    levels: &[G::Amount],
) -> Reading<G::Amount> {
    let label = ground.labels(&[subject]).concat();
    let Some(ridge) = ridge else {
        let how = "take the level of the highest line of the roof and state it as `ridge_level`";
        return Reading::lacking(subject, Need::new(format!("ridge level of {label}"), how));
    };
    let parts: Vec<&G::Amount> = levels.iter().collect();
    let mean = ground.sum(&parts).and_then(|sum| {
        let count = u32::try_from(parts.len()).ok()?;
        ground.scale(&[(&sum, 1.0 / f64::from(count))]).pop()
    });
    let height = mean.as_ref().and_then(|mean| ground.subtract(&[(&ridge, mean)]).pop());
    if let (Some(height), Some(mean)) = (height, mean) {
        return Reading::amount(subject, height).shown("mean_ground", mean);
    }
    let how = "take a level at the middle of each side of the smallest rectangle around it and state them as \
               `ground_levels`";
    Reading::lacking(subject, Need::new(format!("levels of the ground around {label}"), how))
}
