use groundrule_kit::{
    Check, Dimension, Ground, Info, Length, Mark, Need, Reading, Refusal, Shape, drawn_or_not, not_drawn,
};

use crate::near::known;
use crate::size::outside;
use crate::stated::how_located;
use crate::strip::around;
use crate::zone::Zone;

/// Tolerance zone: how wide the strip beside each line is in which only hands may dig.
///
/// # What it measures
/// The strip on each side of the subject, from its outside: `marked`, `record` or `guessed`, as its attribute
/// `located` says how its place is known. The ring around line and strip goes into the answer for the drawing.
///
/// # Why
/// The better the place of a line is known, the narrower the strip where no machine may work. A line that
/// its owner has marked on the ground costs less digging by hand than one off an old record.
///
/// # Parameters
/// - `marked`: the strip each side of a line whose owner marked it on the ground. Needed.
/// - `record`: the strip of a line known from a record drawing. Without it, as `marked`.
/// - `guessed`: the strip of a line that somebody drew where it should be. Without it, as `record`.
///
/// # Answers
/// A length for each subject, with the fact `located`. Where the size of the line is drawn as its width or stated as
/// its `diameter`, also `across` (the line and both strips) and `from_middle` (half of that, as one measures from a
/// mark over the middle). Lacking when the line does not say how its place is known, or is not drawn.
///
/// # Cautions
/// What is drawn is not a location. The strip bars machines, not all digging, and leaves the duty to call first
/// as it was. Where the size of a line is not known the ring is drawn from its middle and is too narrow by half
/// of it.
pub struct ToleranceZone;

impl Check for ToleranceZone {
    const INFO: Info = Info {
        name: "tolerance-zone",
        summary: "The strip each side of a line that is dug by hand, by how its place is known.",
        dimension: Some(Dimension::Length),
        parameters: &[Zone::MARKED.info(), Zone::RECORD.info(), Zone::GUESSED.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let zone = Zone::read(ground)?;
        let (lines, undrawn) = drawn_or_not(ground, &ground.subjects());
        let mut readings: Vec<Reading<G::Amount>> = undrawn
            .iter()
            .zip(ground.labels(&undrawn))
            .map(|(&line, label)| Reading::lacking(line, not_drawn(&label)))
            .collect();
        let located = ground.texts(&lines, "located");
        let all = lines.iter().zip(ground.labels(&lines)).zip(ground.shapes(&lines));
        let all = all.zip(located.into_iter().zip(outside(ground, &lines)));
        readings.extend(all.map(|(((&line, label), shape), (located, size))| {
            let strip = located.as_deref().and_then(|word| zone.of(word));
            let strip = strip.and_then(|strip| ground.scale(&[(strip, 1.0)]).pop());
            let (Some(strip), Some(located)) = (strip, &located) else {
                let what = format!("how the place of {label} is known");
                return Reading::lacking(line, Need::new(what, how_located(located.as_deref())));
            };
            let half = size.and_then(|size| ground.scale(&[(&size, 0.5)]).pop());
            let from_middle = half.and_then(|half| ground.add(&[(&half, &strip)]).pop());
            let reach = known(ground, &ground.scale(&[(from_middle.as_ref().unwrap_or(&strip), 1.0)]));
            let ring = reach
                .first()
                .copied()
                .flatten()
                .filter(|_| shape == Shape::Line)
                .and_then(|reach| around(&ground.outline(line), Length::from_metres(reach)));
            let across = from_middle.as_ref().and_then(|half| ground.scale(&[(half, 2.0)]).pop());
            let mut reading = Reading::amount(line, strip).text("located", located.as_str());
            if let (Some(across), Some(from_middle)) = (across, from_middle) {
                reading = reading.shown("across", across).shown("from_middle", from_middle);
            }
            match ring {
                Some(ring) => reading.mark(Mark::Region(ring)),
                None => reading,
            }
        }));
        Ok(readings)
    }
}
