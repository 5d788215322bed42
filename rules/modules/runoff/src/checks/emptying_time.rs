use groundrule_kit::{Check, Dimension, Feature, Ground, Info, Reading, Refusal};

use crate::one::{Asking, over, stated, times};

/// Emptying time: how long water stands until it has soaked away.
///
/// # What it measures
/// The depth of water over the `soil_rate`. The depth is the `ponding_depth` that the subject states, or, of a pit full
/// of stone, its `depth` times its `void_share`.
///
/// # Why
/// Water that stands for a week breeds mosquitoes and drowns plants, and leaves no room for the next rain.
///
/// # Parameters
/// None.
///
/// # Answers
/// A time for each subject, with the fact `water_depth`. Lacking when its rate or its depth is not stated.
///
/// # Cautions
/// Only the bottom counts here; walls help, silt and frost hinder.
pub struct EmptyingTime;

impl Check for EmptyingTime {
    const INFO: Info = Info {
        name: "emptying-time",
        summary: "How long water stands in each subject until it has soaked away.",
        dimension: Some(Dimension::Time),
        parameters: &[],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        Ok(ground.subjects().into_iter().map(|subject| time(ground, subject)).collect())
    }
}

fn time<G: Ground>(ground: &G, subject: Feature) -> Reading<G::Amount> {
    let mut asking = Asking::of(ground, subject);
    let rate = asking.amount("soil_rate", "test how fast water sinks in a hole there");
    let depth = stated(ground, subject, "ponding_depth").or_else(|| {
        let (depth, voids) = (stated(ground, subject, "depth")?, stated(ground, subject, "void_share")?);
        times(ground, &depth, &voids)
    });
    asking.note(
        depth.is_some(),
        if ground.is_a(&[subject], "dry-well") == [true] { "void_share" } else { "ponding_depth" },
        "say how deep water stands in it: of a pit its `depth` too,",
    );
    let found = depth.zip(rate).and_then(|(depth, rate)| {
        let time = over(ground, &depth, &rate)?;
        Some(Reading::amount(subject, time).shown("water_depth", depth))
    });
    found
        .unwrap_or_else(|| asking.lacking(("emptying time", "a soil that takes in nothing never empties it")))
}
