//! Sight areas, and what stands in them and how high.

use std::collections::BTreeMap;

use groundrule_kit::{
    Choice, Feature, Ground, Length, LengthParameter, Mark, Need, Reading, Shape, drawn_subjects, in_no_pair,
};

/// What of a subject can block the sight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Blocks {
    /// Its top, standing up into the band from below.
    Top,
    /// Its lowest branches, hanging down into the band from above.
    Branches,
}

/// The parameter that says which.
pub(crate) const BLOCKS: Choice<Blocks> = Choice::new(
    "blocks",
    "What is judged: `top`, how high a thing stands, or `branches`, how low a tree hangs; `top` when not given.",
    &[("top", Blocks::Top), ("branches", Blocks::Branches)],
    Blocks::Top,
);

/// How far off a thing may stand and still be told.
pub(crate) const REACH: LengthParameter = LengthParameter::new(
    "reach",
    "How far outside of the area a thing is still measured, well above the accuracy of the plan; 10 ft when not given.",
);

/// The reach that a row gives, or the usual one.
pub(crate) fn reach_or(given: Option<Length>) -> Length {
    given.unwrap_or(Length::from_feet(10.0))
}

/// A sight area with what makes it: its lines, its drive.
pub(crate) struct Area {
    pub(crate) region: Feature,
    pub(crate) made_by: Vec<Feature>,
}

/// One reading for each subject near each area of its own lot.
pub(crate) fn readings<G: Ground>(
    ground: &G,
    areas: &[Area],
    blocks: Blocks,
    reach: Length,
    nothing: &str,
) -> Vec<Reading<G::Amount>> {
    let (subjects, mut readings) = drawn_subjects(ground);
    let by_region: BTreeMap<Feature, &Area> = areas.iter().map(|area| (area.region, area)).collect();
    let regions: Vec<Feature> = by_region.keys().copied().collect();
    let own = |subject: Feature, region: Feature| {
        let line = by_region.get(&region).and_then(|area| area.made_by.first().copied());
        let lots = ground.lot_of(&[subject, line.unwrap_or(subject)]);
        lots.first() == lots.get(1)
    };
    let near = |subjects: &[Feature]| -> Vec<(Feature, Feature)> {
        let crowns = crown_radii(ground, subjects, blocks);
        let widest = crowns
            .into_iter()
            .fold(Length::ZERO, |widest, radius| if radius > widest { radius } else { widest });
        ground.near(subjects, &regions, reach + widest)
    };
    let pairs: Vec<(Feature, Feature)> = near(&subjects).into_iter().filter(|(a, b)| own(*a, *b)).collect();
    for subject in in_no_pair(&subjects, &pairs) {
        readings.push(Reading::not_applicable(subject, nothing));
    }
    readings.extend(pairs.into_iter().filter_map(|(subject, region)| {
        let area = by_region.get(&region)?;
        Some(one(ground, subject, area, blocks))
    }));
    readings
}

/// How far the crown reaches beyond the trunk, where branches are what is asked about.
fn crown_radii<G: Ground>(ground: &G, subjects: &[Feature], blocks: Blocks) -> Vec<Length> {
    if blocks == Blocks::Top {
        return Vec::new();
    }
    let stated = ground.stated(subjects, "spread").into_iter().flatten().collect::<Vec<_>>();
    let values = ground.values(&stated.iter().collect::<Vec<_>>());
    values.into_iter().filter_map(|spread| Some(spread.length()? * 0.5)).collect()
}

fn one<G: Ground>(ground: &G, subject: Feature, area: &Area, blocks: Blocks) -> Reading<G::Amount> {
    let pair = [(subject, area.region)];
    let label = ground.labels(&[subject]).concat();
    let stated = |name: &str| ground.stated(&[subject], name).pop().flatten();
    let judged = match blocks {
        Blocks::Top => top(ground, subject).ok_or_else(|| {
            let how = "state how high it stands over the level of the street as `height`";
            Need::new(format!("height of {label}"), how)
        }),
        Blocks::Branches => stated("lowest_branch").ok_or_else(|| {
            let how = "measure from the ground to the lowest branch and state it as `lowest_branch`";
            Need::new(format!("lowest branch of {label}"), how)
        }),
    };
    let mut reading = match judged {
        Ok(amount) => Reading::amount(subject, amount),
        Err(need) => Reading::lacking(subject, need),
    };
    for &maker in &area.made_by {
        reading = reading.to(maker);
    }
    reading = reading.mark(Mark::Region(ground.outline(area.region)));
    let clearance = ground.clearance(&pair).pop();
    let inside = clearance.and_then(|clear| ground.scale(&[(&clear, -1.0)]).pop());
    let crown = stated("spread").filter(|_| blocks == Blocks::Branches);
    let crown = crown.and_then(|spread| ground.scale(&[(&spread, 0.5)]).pop());
    let inside = match (inside, crown) {
        (Some(inside), Some(crown)) => ground.add(&[(&inside, &crown)]).pop(),
        (inside, _) => inside,
    };
    let beside = match ground.shapes(&[subject]).first() {
        Some(Shape::Line) => ground.length_inside(&pair).pop().map(|length| ("length_inside", length)),
        Some(Shape::Outline | Shape::Disc) => ground.overlap(&pair).pop().map(|area| ("area_inside", area)),
        _ => None,
    };
    let whole = ground.area(&[area.region]).pop().map(|whole| ("sight_area", whole));
    let shown = inside.map(|inside| ("inside", inside)).into_iter().chain(beside).chain(whole);
    shown.fold(reading, |reading, (name, amount)| reading.shown(name, amount))
}

/// The greatest height stated of a thing.
fn top<G: Ground>(ground: &G, subject: Feature) -> Option<G::Amount> {
    let listed = ground.stated_each(&[subject], "heights").pop().unwrap_or_default();
    ground
        .greatest(&listed.iter().collect::<Vec<_>>())
        .or_else(|| ground.stated(&[subject], "height").pop().flatten())
}
