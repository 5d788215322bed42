use std::collections::BTreeMap;

use groundrule_kit::{
    Answer, Check, Choice, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal,
};

use crate::areas::{Area, BLOCKS, REACH, reach_or, readings};
use crate::corners::corners;

/// Sight area at a street corner: what stands in it, and how high or how low.
///
/// # What it measures
/// The area is the triangle at the corner where two lines of the group `lines` meet, with its legs along them. For each
/// subject near it: the height of its top or of its lowest branch, and how far it reaches into the area.
///
/// # Why
/// Whoever comes to a corner must see who comes along the other street, over what is low and under what is high.
///
/// # Parameters
/// - `leg`: the length of the legs. Needed.
/// - `second_leg`: the length of the leg along the second line, in the order of the lot's corners; as `leg` when not given.
///   A line of the lot between the two that is no longer than `leg` counts as the cut of the corner.
/// - `from`: `lines` has the legs along the lot lines, from where they meet or would meet if the corner were not cut or
///   rounded; `centrelines` along the middles of the streets, half of each line's stated `street_width` away. Without
///   it, `lines`.
/// - `blocks`: `top` judges how high a thing stands, `branches` how low a tree hangs, its crown taken as far as its stated
///   `spread`. Without it, `top`.
/// - `reach`: how far outside of the area a thing is still measured; 10 ft when not given.
///
/// # Answers
/// A length for each subject near an area of its own lot, with the facts `inside` (how far it reaches in, less than zero
/// outside), `length_inside` of a line, `area_inside` of an outline, and `sight_area`. A row asks only where
/// `reading.inside > feet(0)`. Not applicable when the lot has no corner of two such lines, or nothing of the subject is
/// near. Lacking when the height is not stated, or for `centrelines` the width of a street is not.
///
/// # Cautions
/// Heights count from the street in most codes, not from the ground beside the thing. The area is a rule of thumb of
/// ordinances; on a fast or curved street a traffic engineer works out the sight distance.
pub struct CornerArea;

const LEG: LengthParameter = LengthParameter::new("leg", "The length of the legs; needed.");
const SECOND_LEG: LengthParameter = LengthParameter::new(
    "second_leg",
    "The length of the leg along the second line; as `leg` when not given.",
);
const FROM: Choice<bool> = Choice::new(
    "from",
    "Where the legs lie: along the lot `lines` or the street `centrelines`; `lines` when not given.",
    &[("lines", false), ("centrelines", true)],
    false,
);

impl Check for CornerArea {
    const INFO: Info = Info {
        name: "corner-area",
        summary: "What stands in the sight area at a street corner, and how high.",
        dimension: Some(Dimension::Length),
        parameters: &[LEG.info(), SECOND_LEG.info(), FROM.info(), BLOCKS.info(), REACH.info()],
        groups: &["lines"],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let Some(leg) = LEG.read(ground)? else {
            return Err(Refusal::new(
                "parameter `leg` is not given; give the length of the legs, such as \"25 ft\"",
            ));
        };
        let second = SECOND_LEG.read(ground)?.unwrap_or(leg);
        let from_centrelines = FROM.read(ground)?;
        let (blocks, reach) = (BLOCKS.read(ground)?, reach_or(REACH.read(ground)?));
        let corners = corners(ground, leg);
        let bare = if from_centrelines { without_width(ground, &corners) } else { BTreeMap::new() };
        let regions = ground.corner_sight(&corners, leg, second, from_centrelines);
        let made = corners.into_iter().zip(regions);
        let areas: Vec<Area> = made
            .filter_map(|((first, second), region)| {
                Some(Area { region: region?, made_by: vec![first, second] })
            })
            .collect();
        let mut told =
            readings(ground, &areas, blocks, reach, "it stands near no corner of two streets on its lot");
        if !bare.is_empty() {
            ask_for_widths(ground, &bare, &mut told);
        }
        Ok(told)
    }
}

/// The street lines along corners that do not say how wide their street is, lot by lot.
fn without_width<G: Ground>(ground: &G, corners: &[(Feature, Feature)]) -> BTreeMap<Feature, Vec<Feature>> {
    let mut lines: Vec<Feature> = corners.iter().flat_map(|&(a, b)| [a, b]).collect();
    lines.sort_unstable();
    lines.dedup();
    let mut bare: BTreeMap<Feature, Vec<Feature>> = BTreeMap::new();
    let widths = ground.stated(&lines, "street_width");
    for ((&line, lot), width) in lines.iter().zip(ground.lot_of(&lines)).zip(widths) {
        if let (Some(lot), None) = (lot, width) {
            bare.entry(lot).or_default().push(line);
        }
    }
    bare
}

/// What was told as near no corner is asked for the widths where its lot has a corner that could not be laid out.
fn ask_for_widths<G: Ground>(
    ground: &G,
    bare: &BTreeMap<Feature, Vec<Feature>>,
    told: &mut [Reading<G::Amount>],
) {
    let how = "look the width of the right-of-way up at the street department and state it as `street_width` on that \
               side of the lot";
    let subjects: Vec<Feature> =
        told.iter().filter_map(|reading| reading.features.first().copied()).collect();
    for (reading, lot) in told.iter_mut().zip(ground.lot_of(&subjects)) {
        let lines = lot.and_then(|lot| bare.get(&lot));
        if let (Answer::NotApplicable(_), Some(lines)) = (&reading.answer, lines) {
            let labels = ground.labels(lines).into_iter();
            let needs = labels.map(|label| Need::new(format!("street width along {label}"), how));
            reading.answer = Answer::Lacking(needs.collect());
        }
    }
}
