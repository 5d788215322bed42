//! How high a fence, wall or hedge is, by the side the height is counted from and by station.

use groundrule_kit::{Choice, Feature, Ground, Length, Mark, Need, Place, Reading};

use crate::along::place_at;

/// The side a height is counted from, where the ground is not level across.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Side {
    /// The higher ground: the lesser height.
    High,
    /// The lower ground: the greater height.
    Low,
}

/// The parameter that says which side.
pub(crate) const SIDE: Choice<Side> = Choice::new(
    "side",
    "The ground the height is counted from, where the two sides differ: `high` or `low`; `high` when not given.",
    &[("high", Side::High), ("low", Side::Low)],
    Side::High,
);

/// A height at a place.
pub(crate) struct At<A> {
    /// The height.
    pub(crate) height: A,
    /// How far along, and where; none for a height that holds all along.
    pub(crate) station: Option<(A, Option<Place>)>,
}

/// The heights of each feature: one at each station where they are stated so, else the one that holds all along.
pub(crate) fn heights<G: Ground>(
    ground: &G,
    features: &[Feature],
    side: Side,
) -> Vec<Result<Vec<At<G::Amount>>, Need>> {
    let labels = ground.labels(features);
    features.iter().zip(labels).map(|(&feature, label)| of_one(ground, feature, &label, side)).collect()
}

fn of_one<G: Ground>(
    ground: &G,
    feature: Feature,
    label: &str,
    side: Side,
) -> Result<Vec<At<G::Amount>>, Need> {
    let listed = |name: &str| ground.stated_each(&[feature], name).pop().unwrap_or_default();
    let single = |name: &str| ground.stated(&[feature], name).pop().flatten();
    let step = single("ground_step");
    let raised = |height: G::Amount| match (side, &step) {
        (Side::High, _) => Some(height),
        (Side::Low, Some(step)) => ground.add(&[(&height, step)]).pop(),
        (Side::Low, None) => None,
    };
    let low = if side == Side::Low { listed("low_heights") } else { Vec::new() };
    let stations = if low.is_empty() {
        listed("heights").into_iter().map(raised).collect::<Option<Vec<_>>>().unwrap_or_default()
    } else {
        low
    };
    if !stations.is_empty() {
        let outline = ground.outline(feature);
        let along = listed("stations").into_iter().map(Some).chain(std::iter::repeat_with(|| None));
        let at = |(height, station): (G::Amount, Option<G::Amount>)| {
            let station = station.map(|station| {
                let metres = ground.values(&[&station]).first().map_or(0.0, |value| value.si());
                (station, place_at(&outline, Length::from_metres(metres)))
            });
            At { height, station }
        };
        return Ok(stations.into_iter().zip(along).map(at).collect());
    }
    let all_along = |height| vec![At { height, station: None }];
    match single("height").map(raised) {
        Some(Some(height)) => Ok(all_along(height)),
        Some(None) => Err(Need::new(
            format!("height of {label} over the lower ground"),
            "state how much lower the ground is on its lower side as `ground_step`, or its height from there as \
             `low_heights`",
        )),
        None => Err(Need::new(
            format!("height of {label}"),
            "state its height over the ground beside it as `height`; where it changes, `heights` at `stations`",
        )),
    }
}

/// The greatest of some heights by best value, with how far along it is and what to draw.
pub(crate) struct Greatest<A> {
    pub(crate) height: A,
    station: Option<A>,
    mark: Option<Mark>,
}

impl<A> Greatest<A> {
    /// The answer it gives.
    pub(crate) fn reading(self, subject: Feature) -> Reading<A> {
        let mut reading = Reading::amount(subject, self.height);
        reading.marks.extend(self.mark);
        match self.station {
            Some(station) => reading.shown("station", station),
            None => reading,
        }
    }
}

/// Chooses the greatest.
pub(crate) fn greatest<G: Ground>(ground: &G, heights: Vec<At<G::Amount>>) -> Option<Greatest<G::Amount>> {
    let values = ground.values(&heights.iter().map(|at| &at.height).collect::<Vec<_>>());
    let highest =
        values.iter().enumerate().max_by(|a, b| a.1.si().total_cmp(&b.1.si()).then(b.0.cmp(&a.0)))?.0;
    let At { height, station } = heights.into_iter().nth(highest)?;
    let mark = station.as_ref().and_then(|(_, place)| place.map(Mark::Spot));
    Some(Greatest { height, station: station.map(|(station, _)| station), mark })
}
