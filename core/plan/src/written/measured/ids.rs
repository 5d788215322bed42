//! The id of each measurement, made of what it measures.

use std::collections::{BTreeMap, BTreeSet};

use super::Entry;
use crate::model::{Fact, Measurement, PointRef, Reading, WallRef};
use crate::reader::Reader;
use crate::{At, Fault, Name, Span};

/// All measurements in file order, each with its id; a repeated one gets `-2`, `-3` in that order.
pub(crate) fn named(mut entries: Vec<Entry>, ids: &[At<Name>], reader: &mut Reader<'_>) -> Vec<Measurement> {
    entries.sort_by_key(|entry| entry.span);
    let mut taken: BTreeMap<Name, Span> = ids.iter().map(|id| (id.value.clone(), id.span)).collect();
    for id in entries.iter().filter_map(|entry| entry.id.as_ref()) {
        if let Some(first) = taken.insert(id.value.clone(), id.span) {
            let message = format!("Two things are named `{}`.", id.value.0);
            let fault = Fault::new("plan::duplicate-id", message, id.span, "again here");
            let fault = fault.with_label(first, "first here");
            reader.tell(
                fault.with_help("Measurements share one set of names with lots and features; rename one."),
            );
        }
    }
    let mut taken: BTreeSet<Name> = taken.into_keys().collect();
    let mut counts: BTreeMap<String, usize> = BTreeMap::new();
    let mut measurements = Vec::with_capacity(entries.len());
    for entry in entries {
        let Some(reading) = entry.reading else { continue };
        let id = entry.id.map_or_else(|| free(&stem(&reading), &mut taken, &mut counts), |id| id.value);
        measurements.push(Measurement { id, reading, by: entry.by, span: entry.span });
    }
    measurements
}

/// The stem itself, or with the first number that is free.
fn free(stem: &str, taken: &mut BTreeSet<Name>, counts: &mut BTreeMap<String, usize>) -> Name {
    loop {
        let count = counts.entry(stem.to_owned()).or_insert(0);
        *count += 1;
        let name = Name(if *count == 1 { stem.to_owned() } else { format!("{stem}-{count}") });
        if taken.insert(name.clone()) {
            return name;
        }
    }
}

fn stem(reading: &Reading) -> String {
    match reading {
        Reading::Chain(chain) => {
            let last = chain.pieces.last().and_then(|piece| piece.to.as_ref());
            format!("chain-{}", two(&chain.start, last.unwrap_or(&chain.start)))
        }
        Reading::Offsets(offsets) => format!("offsets-{}", wall(&offsets.along)),
        Reading::Tie(tie) => format!("tie-{}", one(&tie.point)),
        Reading::Traverse(traverse) => format!("traverse-{}", one(&traverse.start)),
        Reading::Distance(distance) => format!("distance-{}", two(&distance.from, &distance.to)),
        Reading::Angle(angle) => format!("angle-{}", one(&angle.at)),
        Reading::Fact(Fact::Square(thing)) => format!("square-{}", thing.value.0),
        Reading::Fact(Fact::RightAngle { at, .. }) => format!("right-angle-{}", one(at)),
        Reading::Fact(Fact::Parallel(first, _)) => format!("parallel-{}", wall(first)),
        Reading::Fact(Fact::Equal(first, _)) => format!("equal-{}", wall(first)),
        Reading::Fact(Fact::Straight(points)) => {
            let ends = points.first().zip(points.last());
            format!("straight-{}", ends.map(|(first, last)| two(first, last)).unwrap_or_default())
        }
        Reading::Height(height) => format!("level-{}", one(&height.point)),
        Reading::Fall(fall) => format!("level-{}", two(&fall.from, &fall.to)),
        Reading::LevelRun(run) => {
            let ends = run.sights.first().zip(run.sights.last());
            let ends = ends.map(|(first, last)| two(&first.point, &last.point));
            format!("level-run-{}", ends.unwrap_or_default())
        }
    }
}

fn wall(wall: &WallRef) -> String {
    two(&wall.from, &wall.to)
}

/// `house-sw-se` for two corners of one thing, `sw-house-se` otherwise.
fn two(from: &PointRef, to: &PointRef) -> String {
    if from.owner.is_some() && from.owner == to.owner {
        return format!("{}-{}", one(from), to.point.0);
    }
    format!("{}-{}", one(from), one(to))
}

fn one(point: &PointRef) -> String {
    in_words(point).replace('.', "-")
}

/// A point as it is written: `oak`, `house.ne`.
pub(crate) fn in_words(point: &PointRef) -> String {
    point.full()
}
