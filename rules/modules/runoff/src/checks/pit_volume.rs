use groundrule_kit::{Check, Dimension, Ground, Info, ParameterInfo, Reading, Refusal};

use crate::checks::drained_area::{DRAINED, Led, TAKERS, drained, led, need};
use crate::ground::area;
use crate::one::{Asking, given_or_stated, times};

/// Pit volume: how much water a dry well holds.
///
/// # What it measures
/// Its area times its `depth`, times the share of its filling that is room for water.
///
/// # Why
/// It must hold what comes down faster than the soil takes it.
///
/// # Parameters
/// - `voids`: the share that is room where the subject does not state its `void_share`: `"40 %"` for clean stone.
///
/// # Answers
/// A volume for each subject, with the facts `pit_volume` (stone and all) and, where it is known, `drained_area`: what
/// it states, or the group `drained` on its lot. Lacking when its depth or the share is not given, or something is led
/// to its lot where another subject, or one of the group `takers`, may take it.
///
/// # Cautions
/// Stone with fines holds less, and silt fills it over the years.
pub struct PitVolume;

const VOIDS: ParameterInfo =
    ParameterInfo { name: "voids", summary: "The share of its filling that is room, where it states none." };

impl Check for PitVolume {
    const INFO: Info = Info {
        name: "pit-volume",
        summary: "How much water each dry well holds.",
        dimension: Some(Dimension::Volume),
        parameters: &[VOIDS],
        groups: &[DRAINED, TAKERS],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        Ok(led(ground).iter().map(|of| volume(ground, of)).collect())
    }
}

fn volume<G: Ground>(ground: &G, of: &Led) -> Reading<G::Amount> {
    let subject = of.subject;
    let mut asking = Asking::of(ground, subject);
    let depth = asking.amount("depth", "measure it");
    // What the thing itself states comes before what the row takes for all.
    let voids = crate::one::stated(ground, subject, "void_share")
        .or_else(|| given_or_stated(ground, VOIDS.name, subject, "void_share"));
    asking.note(voids.is_some(), "void_share", "ask whoever fills it");
    let led = drained(ground, of);
    if led.is_none() && !of.from.is_empty() {
        asking.needs.push(need(ground, of));
    }
    let all = asking.needs.is_empty();
    let found =
        area(ground, subject).filter(|_| all).zip(depth).zip(voids).and_then(|((area, depth), voids)| {
            let pit = times(ground, &area, &depth)?;
            let water = times(ground, &pit, &voids)?;
            let reading = Reading::amount(subject, water).shown("pit_volume", pit);
            Some(match led {
                Some(drained) => reading.shown("drained_area", drained),
                None => reading,
            })
        });
    found.unwrap_or_else(|| asking.lacking(("volume", "draw its outline")))
}
