use groundrule_kit::{
    Check, Choice, Dimension, Feature, Ground, Info, LengthParameter, Need, Reading, Refusal,
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
        if from_centrelines && let Some(readings) = without_width(ground, &corners) {
            return Ok(readings);
        }
        let regions = ground.corner_sight(&corners, leg, second, from_centrelines);
        let made = corners.into_iter().zip(regions);
        let areas: Vec<Area> = made
            .filter_map(|((first, second), region)| {
                Some(Area { region: region?, made_by: vec![first, second] })
            })
            .collect();
        Ok(readings(ground, &areas, blocks, reach, "it stands near no corner of two streets on its lot"))
    }
}

/// The answer for every subject where a street along a corner does not say how wide it is.
fn without_width<G: Ground>(ground: &G, corners: &[(Feature, Feature)]) -> Option<Vec<Reading<G::Amount>>> {
    let mut lines: Vec<Feature> = corners.iter().flat_map(|&(a, b)| [a, b]).collect();
    lines.sort_unstable();
    lines.dedup();
    let widths = ground.stated(&lines, "street_width");
    let bare: Vec<Feature> =
        lines.iter().zip(widths).filter(|(_, width)| width.is_none()).map(|(line, _)| *line).collect();
    if bare.is_empty() {
        return None;
    }
    let needs = || -> Vec<Need> {
        let how = "look the width of the right-of-way up at the street department and state it as `street_width` on \
                   that side of the lot";
        ground
            .labels(&bare)
            .into_iter()
            .map(|label| Need::new(format!("street width along {label}"), how))
            .collect()
    };
    let lacking = |subject| Reading::new(subject, groundrule_kit::Answer::Lacking(needs()));
    Some(ground.subjects().into_iter().map(lacking).collect())
}
