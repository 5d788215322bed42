//! Coordinates far from all others: a slipped digit or a slipped unit.

use std::collections::BTreeMap;

use groundrule_units::Length;

use super::said;
use crate::model::{Place, Plan};
use crate::{Gravity, Name, Remark, Span, visit};

/// Beyond this from the middle of all coordinates something has slipped. Grids may start far away, so it is never the
/// coordinates themselves that count.
const FAR: Length = Length::from_metres(10_000.0);

struct Spot<'p> {
    of: &'p Name,
    x: Length,
    y: Length,
    span: Span,
}

/// One remark for each thing that has a far place, at the first of them.
pub(super) fn far_coordinates(plan: &Plan) -> Vec<Remark> {
    let spots = spots(plan);
    let (Some(middle_x), Some(middle_y)) = (middle(&spots, |spot| spot.x), middle(&spots, |spot| spot.y))
    else {
        return Vec::new();
    };
    let is_far = |spot: &&Spot<'_>| (spot.x - middle_x).abs() > FAR || (spot.y - middle_y).abs() > FAR;
    let mut far: BTreeMap<&Name, Remark> = BTreeMap::new();
    for spot in spots.iter().filter(is_far) {
        let remark = far.entry(spot.of).or_insert_with(|| {
            let message = format!("`{}` has a place more than 10 km from the rest of the plan.", spot.of.0);
            let help = "Check its coordinates: a digit or a unit may have slipped.";
            let remark = said("data::far-coordinate", Gravity::Suspect, message, spot.span, help);
            Remark { about: vec![spot.of.clone()], ..remark }
        });
        remark.spots.push((spot.x, spot.y));
    }
    far.into_values().collect()
}

fn spots(plan: &Plan) -> Vec<Spot<'_>> {
    let of_points = plan.points.iter().map(|point| (&point.name.value, vec![&point.place]));
    let of_lots = plan.lots.iter().map(|lot| (&lot.id.value, visit::in_path(&lot.ring)));
    let of_features = plan
        .features
        .iter()
        .filter_map(|feature| Some((&feature.id.value, visit::in_geometry(feature.geometry.as_ref()?))));
    let places = of_points.chain(of_lots).chain(of_features);
    let spots = places.flat_map(|(of, places)| {
        places.into_iter().filter_map(move |place| match place {
            Place::At { x, y, span } | Place::Near { x, y, span } => {
                Some(Spot { of, x: x.value, y: y.value, span: *span })
            }
            _ => None,
        })
    });
    spots.collect()
}

fn middle(spots: &[Spot<'_>], axis: impl Fn(&Spot<'_>) -> Length) -> Option<Length> {
    let mut values: Vec<Length> = spots.iter().map(axis).collect();
    values.sort();
    values.get(values.len() / 2).copied()
}
