//! How thick a line is, from what is drawn or stated of it.

use groundrule_kit::{Feature, Ground};

use crate::near::known;

/// Half the outside of each line that is not already in its drawing: half its stated `diameter` where it is drawn
/// without a width. None where the drawing shows its sides, or nothing is known of them.
pub(crate) fn half_undrawn<G: Ground>(ground: &G, lines: &[Feature]) -> Vec<Option<G::Amount>> {
    let drawn = known(ground, &ground.drawn_width(lines));
    let stated = ground.stated(lines, "diameter");
    let one = |(drawn, stated): (Option<f64>, Option<G::Amount>)| {
        let stated = stated.filter(|_| drawn.is_none_or(|width| width <= 0.0))?;
        ground.scale(&[(&stated, 0.5)]).pop()
    };
    drawn.into_iter().zip(stated).map(one).collect()
}

/// The gap of each pair less what the drawing does not show of its line.
pub(crate) fn gaps<G: Ground>(ground: &G, pairs: &[(Feature, Feature)]) -> Vec<G::Amount> {
    let lines: Vec<Feature> = pairs.iter().map(|pair| pair.1).collect();
    let gaps = ground.clearance(pairs).into_iter().zip(half_undrawn(ground, &lines));
    gaps.map(|(gap, half)| {
        let less = half.and_then(|half| ground.subtract(&[(&gap, &half)]).pop());
        less.unwrap_or(gap)
    })
    .collect()
}

/// The outside of each line: as drawn, else its stated `diameter`; none where neither is there.
pub(crate) fn outside<G: Ground>(ground: &G, lines: &[Feature]) -> Vec<Option<G::Amount>> {
    let drawn = ground.drawn_width(lines);
    let values = known(ground, &drawn);
    let stated = ground.stated(lines, "diameter");
    let sides = drawn.into_iter().zip(values).zip(stated);
    sides
        .map(|((drawn, value), stated)| match value {
            Some(value) if value > 0.0 => Some(drawn),
            _ => stated,
        })
        .collect()
}
