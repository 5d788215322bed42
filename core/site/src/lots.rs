//! Which lot each feature stands on.

use groundrule_plan::{Gravity, Name, Plan, Remark};
use groundrule_survey::Shape;
use rayon::prelude::*;
use rstar::AABB;

use crate::area::alone;
use crate::shape::inside::stretches;
use crate::shape::piece::{Piece, pieces};
use crate::shape::rings::{Lies, is_convex, lies};
use crate::shape::segments::{norm, place};
use crate::shape::sweep;
use crate::site::{bounds_of, id, index};
use crate::{Feature, FeatureId, build};

/// Gives each feature its lot: the one stated, else the one that holds more than half of it. A thing that is
/// only stated stands on the lot of a plan that has one lot.
pub(crate) fn assign(plan: &Plan, features: &mut [Feature], first_lot: usize) -> Vec<Remark> {
    let (things, lots) = features.split_at_mut(first_lot);
    let lots: Vec<(FeatureId, &Feature)> = lots
        .iter()
        .enumerate()
        .filter(|(_, lot)| lot.kind == build::LOT)
        .map(|(i, lot)| (id(first_lot + i), lot))
        .collect();
    let of = |id: FeatureId| {
        lots.binary_search_by_key(&id, |(id, _)| *id).ok().and_then(|i| lots.get(i)).map(|(_, lot)| *lot)
    };
    let by_name: std::collections::BTreeMap<&Name, FeatureId> =
        lots.iter().map(|(id, lot)| (&lot.id, *id)).collect();
    let tree = index(lots.iter().copied());
    let holder = |thing: &Feature| {
        let bounds = bounds_of(&thing.shape)?;
        let window = AABB::from_corners([bounds.low.x, bounds.low.y], [bounds.high.x, bounds.high.y]);
        let mut near: Vec<FeatureId> = tree.locate_in_envelope_intersecting(window).map(|i| i.data).collect();
        near.sort_unstable();
        near.into_iter().find(|lot| of(*lot).is_some_and(|lot| holds_most(&lot.shape, &thing.shape)))
    };
    let found: Vec<Option<FeatureId>> = things.par_iter().map(holder).collect();
    let mut remarks = Vec::new();
    for ((thing, found), written) in things.iter_mut().zip(found).zip(&plan.features) {
        let stated = written.lot.as_ref().and_then(|name| by_name.get(&name.value).copied());
        let only = match (&thing.shape, lots.as_slice()) {
            (Shape::Absent, [(only, _)]) => Some(*only),
            _ => None,
        };
        thing.lot = stated.or(found).or(only);
        if let (Some(stated), Some(found)) = (stated.and_then(of), found.and_then(of))
            && stated.id != found.id
        {
            remarks.push(elsewhere(thing, stated, found));
        }
    }
    remarks
}

fn elsewhere(thing: &Feature, stated: &Feature, found: &Feature) -> Remark {
    let spot = bounds_of(&thing.shape).map(|b| (b.low + b.high) / 2.0).map(crate::shape::segments::position);
    Remark {
        code: "data::other-lot",
        gravity: Gravity::Suspect,
        message: format!(
            "{} is said to be on {}, but most of it stands on {}",
            thing.id.0, stated.id.0, found.id.0
        ),
        about: vec![thing.id.clone(), stated.id.clone(), found.id.clone()],
        spots: spot.map(|p| (p.x, p.y)).into_iter().collect(),
        span: thing.span,
        help: Some(format!("check where {0} is placed, or write `lot = \"{1}\"`", thing.id.0, found.id.0)),
    }
}

/// True when a lot holds more than half of a shape: of its area, else of its length, else its spot.
fn holds_most(lot: &Shape, shape: &Shape) -> bool {
    let Shape::Outline { ring, .. } = lot else { return false };
    let of_shape = pieces(shape);
    // Most things stand clear of the lot's edge, and most lots are convex: then their corners tell.
    let mut points = of_shape.iter().flat_map(Piece::points);
    let radius = of_shape.iter().map(Piece::radius).fold(0.0, f64::max);
    if radius == 0.0 && is_convex(ring) && points.all(|p| lies(ring, place(p)) != Lies::Outside) {
        return true;
    }
    let of_lot = pieces(lot);
    let area: f64 = of_shape.iter().map(|piece| alone(piece).0).sum();
    if area > 0.0 {
        let all: Vec<&Piece> = of_shape.iter().collect();
        let within: Vec<&Piece> = of_lot.iter().collect();
        // The strips of a wide line lie over each other at its bends: compare what is covered with the same.
        return more_than_half(sweep::covered(&all, Some(&within)).0, sweep::covered(&all, None).0);
    }
    let edges = || of_shape.iter().flat_map(Piece::edges);
    if edges().next().is_none() {
        return of_shape.iter().flat_map(Piece::points).all(|p| lies(ring, place(p)) != Lies::Outside);
    }
    let length: f64 = edges().map(|(a, b)| norm(place(b) - place(a))).sum();
    let inside: f64 = edges().flat_map(|(a, b)| stretches(a, b, &of_lot)).map(|stretch| stretch.length).sum();
    more_than_half(inside, length)
}

/// Half by half is neither, whatever rounding makes of it.
fn more_than_half(part: f64, whole: f64) -> bool {
    2.0 * part > whole * (1.0 + 1e-9)
}
