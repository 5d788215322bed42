//! Swales and pipes with their water.

use groundrule_kit::{Channel, Choice, Constant, Feature, Ground, Reading, Water};

use crate::one::{Asking, copy, number, one, stated};

/// Which constant of Manning's formula.
pub(crate) const CONSTANT: Choice<Constant> = Choice::new(
    "constant",
    "Manning's constant in feet: `exact` (1.4859), `us-1486` or `us-149`. Without it, 1.486.",
    &[("exact", Constant::Exact), ("us-1486", Constant::Us1486), ("us-149", Constant::Us149)],
    Constant::Us1486,
);

const ROUGH: &str = "take Manning's n for its lining from a table";

/// What the water of a swale is found from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum By {
    /// The design flow it states, or failing that the depth of water it states.
    Design,
    /// The depth it has, less a freeboard.
    Depth,
}

/// The water in a swale, or a reading that says what is not stated.
pub(crate) fn swale<G: Ground>(
    ground: &G,
    subject: Feature,
    by: By,
    constant: Constant,
) -> Result<Water<G::Amount>, Reading<G::Amount>> {
    let mut asking = Asking::of(ground, subject);
    let side = asking.number("side_slope", "take how far its sides go out for each foot they rise");
    let slope = asking.amount("slope", "take its fall by its length");
    let roughness = asking.number("roughness", ROUGH);
    let bottom = stated(ground, subject, "bottom_width");
    let design = stated(ground, subject, "design_flow");
    let depth = match (by, &design) {
        (By::Design, Some(_)) => None,
        (By::Design, None) => {
            let depth = stated(ground, subject, "flow_depth");
            asking.note(depth.is_some(), "design_flow", "work out the flow it must carry");
            depth
        }
        (By::Depth, _) => {
            let depth = asking.amount("depth", "measure how deep it is");
            depth.and_then(|depth| less_freeboard(ground, depth))
        }
    };
    let channel = |slope, roughness, side| Channel {
        width: bottom.as_ref(),
        side: Some(side),
        slope,
        roughness,
        constant,
    };
    let water = slope.as_ref().zip(roughness).zip(side).and_then(|((slope, roughness), side)| {
        let channel = channel(slope, roughness, side);
        match (&depth, &design) {
            (Some(depth), _) => one(ground.at_depth(&[(channel, depth)])),
            (None, Some(flow)) => one(ground.at_flow(&[(channel, flow)])),
            (None, None) => None,
        }
    });
    water.ok_or_else(|| {
        asking.lacking((
            "flow",
            "give it a slope, a roughness and a depth of more than nothing; the formula has no answer for these",
        ))
    })
}

fn less_freeboard<G: Ground>(ground: &G, depth: G::Amount) -> Option<G::Amount> {
    match ground.parameter_amount("freeboard") {
        Some(freeboard) => ground.subtract(&[(&depth, &freeboard)]).pop(),
        None => Some(depth),
    }
}

/// The water in a pipe as deep as it states, or full.
pub(crate) fn pipe<G: Ground>(
    ground: &G,
    subject: Feature,
    constant: Constant,
) -> Result<Water<G::Amount>, Reading<G::Amount>> {
    let mut asking = Asking::of(ground, subject);
    let diameter = asking.amount("inside_diameter", "measure it");
    let slope = asking.amount("slope", "take its fall by its length");
    let roughness = asking.number("roughness", ROUGH);
    let water =
        diameter.as_ref().zip(slope.as_ref()).zip(roughness).and_then(|((diameter, slope), roughness)| {
            let channel = Channel { width: Some(diameter), side: None, slope, roughness, constant };
            let depth = stated(ground, subject, "flow_depth").or_else(|| copy(ground, diameter))?;
            one(ground.at_depth(&[(channel, &depth)]))
        });
    water.ok_or_else(|| {
        asking.lacking((
            "flow",
            "give it a slope, a roughness and a depth of water that fit it; the formula has no answer for these",
        ))
    })
}

/// The readings of a check that asks one thing of the water of each swale.
pub(crate) fn of_swales<G: Ground>(
    ground: &G,
    by: By,
    constant: Constant,
    answer: impl Fn(Feature, Water<G::Amount>) -> Reading<G::Amount>,
) -> Vec<Reading<G::Amount>> {
    let one = |subject| match swale(ground, subject, by, constant) {
        Ok(water) => answer(subject, water),
        Err(lacking) => lacking,
    };
    ground.subjects().into_iter().map(one).collect()
}

/// Manning's n that a feature states.
pub(crate) fn roughness<G: Ground>(ground: &G, of: Feature) -> Option<f64> {
    number(ground, of, "roughness")
}
