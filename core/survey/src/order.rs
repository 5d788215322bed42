//! The order in which things can be placed: what a thing is set out from comes before it.

use std::collections::{BTreeMap, VecDeque};

use groundrule_plan::{Anchor, Curve, Fault, Geometry, Place, Plan, PointRef, Span, Vertex};

use crate::layout::Owner;

/// Things in an order that places every thing after those it is set out from, or what stands in the way.
pub(crate) fn placing_order(plan: &Plan) -> Result<Vec<Owner>, Vec<Fault>> {
    let owners = owners(plan);
    let index: BTreeMap<Owner, usize> =
        owners.iter().enumerate().map(|(i, (owner, ..))| (*owner, i)).collect();
    let by_name = names(plan);
    let mut faults = Vec::new();
    let mut waits_for: Vec<usize> = vec![0; owners.len()];
    let mut releases: Vec<Vec<usize>> = vec![Vec::new(); owners.len()];

    for (i, (_, refs, _)) in owners.iter().enumerate() {
        for point in refs {
            match by_name.get(owner_key(point)).and_then(|owner| index.get(owner)) {
                Some(&before) => {
                    waits_for[i] += 1;
                    releases[before].push(i);
                }
                None => faults.push(unknown(point, &by_name)),
            }
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }

    // First come, first placed, so that the order is the file's wherever it can be.
    let mut ready: VecDeque<usize> = (0..owners.len()).filter(|&i| waits_for[i] == 0).collect();
    let mut order = Vec::with_capacity(owners.len());
    while let Some(i) = ready.pop_front() {
        order.push(owners[i].0);
        for &next in &releases[i] {
            waits_for[next] -= 1;
            if waits_for[next] == 0 {
                ready.push_back(next);
            }
        }
    }
    let stuck: Vec<Fault> = owners
        .iter()
        .zip(&waits_for)
        .filter(|(_, waits)| **waits > 0)
        .map(|((_, _, span), _)| circular(*span))
        .collect();
    if stuck.is_empty() { Ok(order) } else { Err(stuck) }
}

/// The part of a reference that names a thing of its own: the feature of `house.ne`, the point of `oak`.
fn owner_key(point: &PointRef) -> &str {
    &point.owner.as_ref().unwrap_or(&point.point).0
}

/// Every thing that has a place, with the points it is set out from and where it stands in the file.
fn owners(plan: &Plan) -> Vec<(Owner, Vec<&PointRef>, Span)> {
    let points = plan.points.iter().zip(0..).map(|(point, i)| {
        let mut refs = Vec::new();
        in_place(&point.place, &mut refs);
        (Owner::Point(i), refs, point.name.span)
    });
    let lots = plan.lots.iter().zip(0..).map(|(lot, i)| {
        let mut refs = Vec::new();
        in_vertices(&lot.ring.vertices, &mut refs);
        (Owner::Lot(i), refs, lot.span)
    });
    let features = plan.features.iter().zip(0..).map(|(feature, i)| {
        let mut refs = Vec::new();
        if let Some(geometry) = &feature.geometry {
            in_geometry(geometry, &mut refs);
        }
        (Owner::Feature(i), refs, feature.id.span)
    });
    points.chain(lots).chain(features).collect()
}

/// Who owns which name; a point of its own goes before a thing of the same name.
fn names(plan: &Plan) -> BTreeMap<&str, Owner> {
    let features = plan.features.iter().zip(0..).map(|(f, i)| (f.id.value.0.as_str(), Owner::Feature(i)));
    let lots = plan.lots.iter().zip(0..).map(|(l, i)| (l.id.value.0.as_str(), Owner::Lot(i)));
    let points = plan.points.iter().zip(0..).map(|(p, i)| (p.name.value.0.as_str(), Owner::Point(i)));
    features.chain(lots).chain(points).collect()
}

fn in_geometry<'a>(geometry: &'a Geometry, refs: &mut Vec<&'a PointRef>) {
    match geometry {
        Geometry::Outline { ring, holes } => {
            in_vertices(&ring.vertices, refs);
            for hole in holes {
                in_vertices(&hole.vertices, refs);
            }
        }
        Geometry::Line { path, .. } => in_vertices(&path.vertices, refs),
        Geometry::Spot(place)
        | Geometry::Circle { centre: place, .. }
        | Geometry::Box { anchor: Anchor::Corner { place, .. }, .. } => in_place(place, refs),
        Geometry::Box { anchor: Anchor::Wall { wall, .. }, .. } => refs.extend([&wall.from, &wall.to]),
    }
}

fn in_vertices<'a>(vertices: &'a [Vertex], refs: &mut Vec<&'a PointRef>) {
    for vertex in vertices {
        in_place(&vertex.place, refs);
        if let Some(Curve::Through(place)) = &vertex.curve {
            in_place(place, refs);
        }
    }
}

fn in_place<'a>(place: &'a Place, refs: &mut Vec<&'a PointRef>) {
    match place {
        Place::Near { .. } | Place::At { .. } => {}
        Place::Point(point) | Place::From { base: point, .. } => refs.push(point),
        Place::Along { wall, .. } => refs.extend([&wall.from, &wall.to]),
    }
}

fn unknown(point: &PointRef, known: &BTreeMap<&str, Owner>) -> Fault {
    let wanted = owner_key(point);
    let nearest = known
        .keys()
        .max_by(|a, b| strsim::jaro(a, wanted).total_cmp(&strsim::jaro(b, wanted)).then_with(|| b.cmp(a)));
    Fault {
        code: "plan::unknown-point",
        message: format!("There is no point or feature named `{wanted}`."),
        labels: vec![(point.span, "named here".to_owned())],
        help: nearest.map(|name| {
            format!("Define it under [points], or name one that is there; the nearest is `{name}`.")
        }),
    }
}

fn circular(span: Span) -> Fault {
    Fault {
        code: "plan::circular-place",
        message: "This is set out from itself, by way of what it is set out from.".to_owned(),
        labels: vec![(span, "its place leads back here".to_owned())],
        help: Some("Give one of the things in the circle a place of its own: coordinates, or a distance from something else.".to_owned()),
    }
}
