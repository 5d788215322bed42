//! How high a wall is, by the levels stated of its top, its foot and the ground it holds.

use groundrule_kit::{Choice, Feature, Ground, Need};

use crate::amounts::{greatest, label, less, plus};

/// What of a wall is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Height {
    /// From the ground on its low side to its top.
    Exposed,
    /// From the ground on its low side to the ground on its high side.
    Retained,
    /// From the underside of its footing to its top.
    FromFooting,
}

/// The parameter that says what of a wall is measured.
pub(crate) const MEASURE: Choice<Height> = Choice::new(
    "measure",
    "What height: `exposed` (low ground to top), `retained` (low ground to high ground) or `from-footing` (underside of \
     the footing to top); `exposed` when not given.",
    &[("exposed", Height::Exposed), ("retained", Height::Retained), ("from-footing", Height::FromFooting)],
    Height::Exposed,
);

/// The height of a wall where it is greatest, or all that is lacking for it.
pub(crate) fn height<G: Ground>(ground: &G, wall: Feature, of: Height) -> Result<G::Amount, Vec<Need>> {
    let exposed = || exposed(ground, wall);
    match of {
        Height::Exposed => exposed().map_err(|need| vec![need]),
        Height::Retained => retained(ground, wall).map_err(|need| vec![need]),
        Height::FromFooting => {
            let footing = single(ground, wall, "footing_depth").ok_or_else(|| {
                let what = format!("footing depth of {}", label(ground, wall));
                Need::new(what, "state how deep the underside of its footing lies below the ground on its low side, as `footing_depth`")
            });
            match (exposed(), footing) {
                (Ok(exposed), Ok(footing)) => plus(ground, &exposed, &footing).ok_or_else(Vec::new),
                (exposed, footing) => Err([exposed.err(), footing.err()].into_iter().flatten().collect()),
            }
        }
    }
}

/// The mean level stated of the foot of a wall.
pub(crate) fn foot<G: Ground>(ground: &G, wall: Feature) -> Option<G::Amount> {
    let levels = each(ground, wall, "bottom_levels");
    let sum = ground.sum(&levels.iter().collect::<Vec<_>>())?;
    ground.scale(&[(&sum, 1.0 / levels.len() as f64)]).pop()
}

/// The ground that a stated height is counted from: `high`, `low`, or `level` for a wall that holds nothing.
pub(crate) fn side<G: Ground>(ground: &G, wall: Feature) -> Option<String> {
    ground.texts(&[wall], "height_side").pop().flatten()
}

fn exposed<G: Ground>(ground: &G, wall: Feature) -> Result<G::Amount, Need> {
    let (top, bottom) = (each(ground, wall, "top_levels"), each(ground, wall, "bottom_levels"));
    if let Some(height) = over(ground, &top, &bottom) {
        return Ok(height);
    }
    let height = single(ground, wall, "height");
    // Counted from the ground on its high side, it leaves out what the wall holds.
    if height.is_some() && side(ground, wall).as_deref() == Some("high") {
        let step = single(ground, wall, "ground_step");
        return height.zip(step).and_then(|(height, step)| plus(ground, &height, &step)).ok_or_else(|| {
            Need::new(
                format!("step of the ground at {}", label(ground, wall)),
                "state how much lower the ground is on its low side as `ground_step`, or its levels as `top_levels` and \
                 `bottom_levels`",
            )
        });
    }
    height.ok_or_else(|| {
        Need::new(
            format!("height of {}", label(ground, wall)),
            "state the levels of its top and of the ground on its low side as `top_levels` and `bottom_levels`, one for \
             each vertex or station; or its `height`",
        )
    })
}

fn retained<G: Ground>(ground: &G, wall: Feature) -> Result<G::Amount, Need> {
    let bottom = each(ground, wall, "bottom_levels");
    let (upper, top) = (each(ground, wall, "upper_levels"), each(ground, wall, "top_levels"));
    // Where nobody says how high the ground behind it stands, it stands to its top.
    let held = if upper.is_empty() { &top } else { &upper };
    over(ground, held, &bottom).or_else(|| single(ground, wall, "ground_step")).ok_or_else(|| {
        Need::new(
            format!("ground held by {}", label(ground, wall)),
            "state the levels of the ground on its low and its high side as `bottom_levels` and `upper_levels`, one for \
             each vertex or station; or the difference as `ground_step`",
        )
    })
}

/// The greatest difference of two lists of levels, station by station.
fn over<G: Ground>(ground: &G, high: &[G::Amount], low: &[G::Amount]) -> Option<G::Amount> {
    let each: Vec<G::Amount> =
        high.iter().zip(low).filter_map(|(high, low)| less(ground, high, low)).collect();
    greatest(ground, &each)
}

fn each<G: Ground>(ground: &G, wall: Feature, name: &str) -> Vec<G::Amount> {
    ground.stated_each(&[wall], name).pop().unwrap_or_default()
}

fn single<G: Ground>(ground: &G, wall: Feature, name: &str) -> Option<G::Amount> {
    ground.stated(&[wall], name).pop().flatten()
}
