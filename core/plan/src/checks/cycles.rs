//! Things set out from each other in a circle, so that none of them has a place.

use std::collections::{BTreeMap, BTreeSet};

use super::known::Known;
use crate::model::{Plan, PointRef};
use crate::reader::Reader;
use crate::{Fault, Name, Span, visit};

/// A point, or a lot or feature with all its corners.
struct Thing<'p> {
    name: &'p Name,
    span: Span,
    set_out_from: Vec<&'p PointRef>,
}

/// A name, and whether it is a point's; points and things do not share names.
type Key<'p> = (bool, &'p Name);

/// Tells of every circle once. All references must be to things that are there.
///
/// What is measured has its place from its measurements, and hangs on nothing.
pub(super) fn check(plan: &Plan, known: &Known, reader: &mut Reader<'_>) {
    let mut things = things(plan);
    let points: BTreeSet<&Name> = plan.points.iter().map(|point| &point.name.value).collect();
    let waits_for = |point: &PointRef| {
        let written = point.owner.is_none() && points.contains(&point.point);
        written || !known.bears_on(point)
    };
    for thing in things.values_mut() {
        thing.set_out_from.retain(|point| waits_for(point));
    }
    let mut open: BTreeSet<Key<'_>> = things.keys().copied().collect();
    // Whatever depends only on what is settled is settled; what never is stands in a circle or hangs on one.
    let mut waits: BTreeMap<Key<'_>, usize> = BTreeMap::new();
    let mut releases: BTreeMap<Key<'_>, Vec<Key<'_>>> = BTreeMap::new();
    for (key, thing) in &things {
        waits.insert(*key, thing.set_out_from.len());
        for point in &thing.set_out_from {
            releases.entry(key_of(point, &things)).or_default().push(*key);
        }
    }
    let mut settled: Vec<Key<'_>> =
        waits.iter().filter(|(_, count)| **count == 0).map(|(key, _)| *key).collect();
    while let Some(key) = settled.pop() {
        open.remove(&key);
        for next in releases.get(&key).into_iter().flatten() {
            if let Some(count) = waits.get_mut(next) {
                *count -= 1;
                if *count == 0 {
                    settled.push(*next);
                }
            }
        }
    }
    while let Some(start) = open.first().copied() {
        let circle = walk(start, &things, &open, reader);
        for key in circle {
            open.remove(&key);
        }
    }
}

/// Follows open references from a thing until one repeats, and tells of the circle; gives all that was walked.
fn walk<'p>(
    start: Key<'p>,
    things: &BTreeMap<Key<'p>, Thing<'p>>,
    open: &BTreeSet<Key<'p>>,
    reader: &mut Reader<'_>,
) -> Vec<Key<'p>> {
    let mut steps: Vec<(Key<'p>, Span)> = Vec::new();
    let mut seen: BTreeMap<Key<'p>, usize> = BTreeMap::new();
    let mut here = start;
    loop {
        seen.insert(here, steps.len());
        let onward = things.get(&here).and_then(|thing| {
            thing
                .set_out_from
                .iter()
                .map(|point| (key_of(point, things), point.span))
                .find(|(key, _)| open.contains(key))
        });
        // What hangs on a circle already told has nowhere left to go.
        let Some((next, span)) = onward else { break };
        steps.push((here, span));
        if let Some(first) = seen.get(&next) {
            tell(&steps[*first..], things, reader);
            break;
        }
        here = next;
    }
    seen.into_keys().collect()
}

fn tell(circle: &[(Key<'_>, Span)], things: &BTreeMap<Key<'_>, Thing<'_>>, reader: &mut Reader<'_>) {
    const MOST_LABELS: usize = 6;
    let Some(((_, name), _)) = circle.first() else { return };
    let message = match circle.len() {
        1 => format!("`{}` is set out from itself.", name.0),
        count => format!("`{}` is set out from itself, by way of {} more.", name.0, count - 1),
    };
    let mut fault = Fault { code: "plan::circle", message, labels: Vec::new(), help: None };
    for (key, span) in circle.iter().take(MOST_LABELS) {
        fault = fault.with_label(*span, format!("`{}` is set out from this", key.1.0));
    }
    if let Some(thing) = things.get(&circle[0].0).filter(|_| circle.len() > MOST_LABELS) {
        fault = fault.with_label(thing.span, "and so on, back to here");
    }
    reader.tell(
        fault.with_help(
            "Give one of them a place of its own: coordinates, or a distance from something else.",
        ),
    );
}

fn things(plan: &Plan) -> BTreeMap<Key<'_>, Thing<'_>> {
    let points = plan.points.iter().map(|point| {
        let set_out_from = visit::refs_of(&point.place);
        (true, Thing { name: &point.name.value, span: point.name.span, set_out_from })
    });
    let lots = plan.lots.iter().map(|lot| {
        let set_out_from = visit::refs_in_path(&lot.ring);
        (false, Thing { name: &lot.id.value, span: lot.id.span, set_out_from })
    });
    let features = plan.features.iter().map(|feature| {
        let set_out_from = feature.geometry.as_ref().map(visit::refs_in_geometry).unwrap_or_default();
        (false, Thing { name: &feature.id.value, span: feature.id.span, set_out_from })
    });
    points.chain(lots).chain(features).map(|(is_point, thing)| ((is_point, thing.name), thing)).collect()
}

/// What a reference hangs on: the owner of the corner, the point, or the feature that is itself a place.
fn key_of<'p>(point: &'p PointRef, things: &BTreeMap<Key<'p>, Thing<'p>>) -> Key<'p> {
    match &point.owner {
        Some(owner) => (false, owner),
        None if things.contains_key(&(true, &point.point)) => (true, &point.point),
        None => (false, &point.point),
    }
}
