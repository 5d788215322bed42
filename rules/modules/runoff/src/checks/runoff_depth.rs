use groundrule_kit::{Check, Choice, Dimension, Feature, Ground, Info, ParameterInfo, Reading, Refusal};

use crate::ground::only_ground;
use crate::numbers::{COVER, NUMBERS, Numbered, ROUNDING, SOIL, Table, numbered, of_row};
use crate::one::{Asking, given_or_stated, one, times};
use crate::parts::{listed, plain};

/// Runoff depth: how much of a rain runs off a piece of ground, by curve number.
///
/// # What it measures
/// `(P - Ia)^2 / (P - Ia + S)`, with `S = 1000/CN - 10` inches and `Ia = 0.2 S`; nothing where the rain is no more than
/// `Ia`. The number is what the subject states as `curve_number`, or the table's for its `ground_cover` and
/// `soil_group`, or that of the group `covers` on it, weighted by area. A `hard_share` that is stated raises it to 98 by that
/// share, less half of the `unconnected_share` where under 30 % is hard.
///
/// # Why
/// The depth of runoff, times the area, is the water that a basin or a garden has to deal with.
///
/// # Parameters
/// - `rain`: the rain of the storm. Without it, what the subject states as `rain_depth`.
/// - `numbers`: figures of kinds and surfaces, and of the `ground` that nothing else covers: `["structure 98"]`.
/// - `soil_group`: of the soil, where none is stated.
/// - `ground_cover`: a cover of the table for the ground besides, such as `lawn-good`. Where the soil group is known, its
///   number on that soil takes the place of the row's `ground`, in `equal_depth` too.
/// - `combine`: `averaged` works with the mean number; `added` adds the runoff of each part, which gives more. Without
///   it, `averaged`.
/// - `rounding`: `whole` or `none`. Without it, `whole`.
/// - `equal_to`: a share of hard ground, to compare with, on the row's `ground`, or its `ground_cover` on the soil of the subject.
///
/// # Answers
/// A length for each subject, with the facts `runoff_volume` and `drained_area`, the `name`, `area` and `curve_number` of
/// each part, and of all together the `curve_number` and how it was `combined`; `below_method` is true for a number under 40. With `equal_to`,
/// `equal_depth` is what would run off if that share were hard and the rest such ground. Lacking when a number or the
/// rain is not given, or something on it is not drawn.
///
/// # Cautions
/// Parts added and a number averaged are not the same; say which one a rule means. For numbers under 40 the method is
/// not to be used. A licensed engineer answers for the design.
pub struct RunoffDepth;

pub(crate) const RAIN: ParameterInfo = ParameterInfo {
    name: "rain",
    summary: "The rain of the storm; what the subject states as `rain_depth` when not given.",
};
const COMBINE: Choice<bool> = Choice::new(
    "combine",
    "`averaged`: by the mean number; `added`: the runoff of each part. Without it, `averaged`.",
    &[("averaged", false), ("added", true)],
    false,
);
const EQUAL: ParameterInfo = ParameterInfo {
    name: "equal_to",
    summary: "A share of hard ground to compare with, on the row's `ground`.",
};
/// TR-55, chapter 2: under this number the method is not to be used.
const LEAST_NUMBER: f64 = 40.0;

impl Check for RunoffDepth {
    const INFO: Info = Info {
        name: "runoff-depth",
        summary: "How much of a rain runs off each piece of ground, by curve number.",
        dimension: Some(Dimension::Length),
        parameters: &[RAIN, NUMBERS, SOIL, COVER, COMBINE.info(), ROUNDING.info(), EQUAL],
        groups: &["covers"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let (table, added) = (of_row(ground)?, COMBINE.read(ground)?);
        let (subjects, covers) = (ground.subjects(), ground.group("covers"));
        only_ground(ground, &subjects)?;
        let reading = |subject| depth(ground, subject, &covers, &table, added);
        Ok(subjects.into_iter().map(reading).collect())
    }
}

fn depth<G: Ground>(
    ground: &G,
    subject: Feature,
    covers: &[Feature],
    table: &Table,
    added: bool,
) -> Reading<G::Amount> {
    let mut asking = Asking::of(ground, subject);
    let rain = given_or_stated(ground, RAIN.name, subject, "rain_depth");
    asking.note(rain.is_some(), "rain_depth", "take it from the local table for the design storm");
    let found = numbered(ground, &mut asking, covers, table);
    let answer = found.zip(rain).and_then(|(found, rain)| {
        let depth = if added {
            of_parts(ground, &found, &rain)?
        } else {
            one(ground.runoff_depth(&[(&rain, &found.number)]))?
        };
        let equal = equal_depth(ground, &found, &rain);
        let volume = times(ground, &found.area, &depth)?;
        let how = if added { "the runoff of each part added" } else { "by the mean number" };
        let together = [
            ("curve_number", if added { plain(found.weighted) } else { found.words() }),
            ("combined", how.to_owned()),
        ];
        let reading = Reading::amount(subject, depth)
            .shown("runoff_volume", volume)
            .shown("drained_area", found.area)
            .flag("below_method", found.weighted < LEAST_NUMBER);
        let reading = match equal {
            Some(equal) => reading.shown("equal_depth", equal),
            None => reading,
        };
        Some(listed(reading, found.parts, "curve_number", &together))
    });
    let why = ("runoff", "give it an area of more than nothing and curve numbers from 1 to 100");
    answer.unwrap_or_else(|| asking.lacking(why))
}

/// What would run off if the share of the row were hard and the rest its ground.
fn equal_depth<G: Ground>(ground: &G, found: &Numbered<G::Amount>, rain: &G::Amount) -> Option<G::Amount> {
    let share = ground.parameter_amount(EQUAL.name)?;
    let soft = one(ground.composite(&[vec![(&found.area, found.of_ground?)]]))?;
    let number = one(ground.with_hard_ground(&[(&soft, &share, None)]))?;
    one(ground.runoff_depth(&[(rain, &number)]))
}

/// The runoff of each part, added and spread over the whole.
fn of_parts<G: Ground>(ground: &G, found: &Numbered<G::Amount>, rain: &G::Amount) -> Option<G::Amount> {
    let mut volumes = Vec::with_capacity(found.parts.len());
    for part in &found.parts {
        let number = one(ground.composite(&[vec![(&part.area, part.figure)]]))?;
        let depth = one(ground.runoff_depth(&[(rain, &number)]))?;
        volumes.push(times(ground, &part.area, &depth)?);
    }
    let sum = ground.sum(&volumes.iter().collect::<Vec<_>>())?;
    one(ground.product(&[vec![(&sum, 1), (&found.area, -1)]]))
}
