use groundrule_kit::{
    Check, Dimension, Feature, Ground, Info, Need, ParameterInfo, Ratio, Reading, Refusal, Storm,
};

use crate::checks::runoff_depth::RAIN;
use crate::ground::only_ground;
use crate::numbers::{COVER, NUMBERS, ROUNDING, SOIL, Table, numbered, of_row};
use crate::one::{Asking, given_or_stated, one, text};
use crate::parts::listed;

/// Graphical peak: the peak flow from a piece of ground after the rain of a day, by the graphical method of TR-55.
///
/// # What it measures
/// `qu A Q Fp`: the unit peak for the time of concentration and for how much rain the ground takes first, the area, the
/// depth of runoff by curve number, and the factor for ponds.
///
/// # Why
/// Ordinances that ask for a peak before and after often ask for this one.
///
/// # Parameters
/// - `rain`: the rain of 24 hours. Without it, what the subject states as `rain_depth`.
/// - `ponds`: the share that is pond or swamp. Without it, what the subject states as `pond_share`, or none.
/// - `numbers`, `soil_group`, `ground_cover`, `rounding`: as for `runoff-depth`, with its group `covers`.
///
/// # Answers
/// A flow for each subject, with the facts `runoff_depth`, `concentration_time` and `drained_area`, the `name`, `area` and
/// `curve_number` of each part, and the `curve_number` of all together. Lacking when its `concentration_time` or `storm_type`, the rain or a
/// number is not given, and where the method ends: a time outside of 0.1 to 10 h, over 5 % of ponds.
///
/// # Cautions
/// Of the method's coefficients only some could be read again; the others are from memory. A licensed engineer answers
/// for the design.
pub struct GraphicalPeak;

const PONDS: ParameterInfo = ParameterInfo {
    name: "ponds",
    summary: "Share of the ground that is pond or swamp; what the subject states as `pond_share` when not given.",
};

impl Check for GraphicalPeak {
    const INFO: Info = Info {
        name: "graphical-peak",
        summary: "The peak flow from each piece of ground after the rain of a day, by TR-55.",
        dimension: Some(Dimension::Flow),
        parameters: &[RAIN, PONDS, NUMBERS, SOIL, COVER, ROUNDING.info()],
        groups: &["covers"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let table = of_row(ground)?;
        let (subjects, covers) = (ground.subjects(), ground.group("covers"));
        only_ground(ground, &subjects)?;
        Ok(subjects.into_iter().map(|subject| peak(ground, subject, &covers, &table)).collect())
    }
}

fn peak<G: Ground>(ground: &G, subject: Feature, covers: &[Feature], table: &Table) -> Reading<G::Amount> {
    let mut asking = Asking::of(ground, subject);
    let rain = given_or_stated(ground, RAIN.name, subject, "rain_depth");
    asking.note(rain.is_some(), "rain_depth", "take the rain of 24 hours from the local table");
    let time = asking.amount("concentration_time", "work it out along the longest way of its water");
    let storm = text(ground, subject, "storm_type").and_then(|name| storm(&name));
    if storm.is_none() {
        let how = "state it as `storm_type`: `I`, `IA`, `II` or `III`, by the map";
        asking.needs.push(Need::new(format!("storm type of {}", asking.label), how));
    }
    let ponds = given_or_stated(ground, PONDS.name, subject, "pond_share")
        .and_then(|share| ground.values(&[&share]).first()?.ratio())
        .unwrap_or(Ratio::ZERO);
    let found = numbered(ground, &mut asking, covers, table);
    let answer = found.zip(rain).zip(time).zip(storm).and_then(|(((found, rain), time), storm)| {
        let item = (&found.area, &found.number, &rain, &time);
        let flow = one(ground.graphical_peak(&[item], storm, ponds.fraction()))?;
        let depth = one(ground.runoff_depth(&[(&rain, &found.number)]))?;
        let together = [("curve_number", found.words())];
        let reading = Reading::amount(subject, flow)
            .shown("runoff_depth", depth)
            .shown("concentration_time", time)
            .shown("drained_area", found.area);
        Some(listed(reading, found.parts, "curve_number", &together))
    });
    let why = "the method ends at times from 0.1 to 10 h and at 5 % of ponds; use another beyond";
    answer.unwrap_or_else(|| asking.lacking(("peak flow", why)))
}

fn storm(name: &str) -> Option<Storm> {
    match name.trim().to_ascii_uppercase().as_str() {
        "I" => Some(Storm::I),
        "IA" => Some(Storm::Ia),
        "II" => Some(Storm::II),
        "III" => Some(Storm::III),
        _ => None,
    }
}
