//! The order in which things can be placed: what a thing is set out from, or measured from, comes before it.

use std::collections::{BTreeMap, BTreeSet, VecDeque};

use groundrule_plan::{Anchor, Curve, Fault, Geometry, Place, Plan, PointRef, Span, Vertex};

use crate::field::Field;
use crate::field::names::mentioned;
use crate::layout::Owner;

/// One step of placing a plan.
#[derive(Debug)]
pub(crate) enum Step {
    /// Place a point, lot or feature.
    Place(Owner),
    /// Work out the points of these measurements, by their index in the plan.
    Measure(Vec<usize>),
}

/// Steps in an order that places every thing after those it is set out from, or what stands in the way.
pub(crate) fn placing_order(field: &Field<'_>) -> Result<Vec<Step>, Vec<Fault>> {
    let mut queue = Queue::of(field)?;
    let mut steps = Vec::new();
    let names: Vec<BTreeSet<String>> =
        field.plan.measurements.iter().map(|measurement| mentioned(measurement, &field.rings)).collect();
    // Points that nothing measures wait for no measurement; they are found to have no place.
    let named: BTreeSet<&String> = names.iter().flatten().collect();
    for name in field.measured.iter().filter(|name| !named.contains(name)) {
        queue.measured(name);
    }
    let mut left: Vec<(usize, &BTreeSet<String>)> = names.iter().enumerate().collect();
    loop {
        while let Some(owner) = queue.next() {
            steps.push(Step::Place(owner));
        }
        let (ready, later): (Vec<_>, Vec<_>) =
            left.into_iter().partition(|(_, names)| queue.is_ready(names, field));
        if ready.is_empty() {
            break;
        }
        for name in ready.iter().flat_map(|(_, names)| *names) {
            queue.measured(name);
        }
        steps.push(Step::Measure(ready.into_iter().map(|(i, _)| i).collect()));
        left = later;
    }
    let stuck = queue.stuck();
    if stuck.is_empty() { Ok(steps) } else { Err(stuck) }
}

/// Everything that has a place, and what it waits for.
struct Queue<'a> {
    owners: Vec<(Owner, Span)>,
    by_name: BTreeMap<&'a str, usize>,
    /// For each thing, how many of the things and names it is set out from have no place yet.
    waits_for: Vec<usize>,
    /// For each thing, the things that wait for it.
    releases: Vec<Vec<usize>>,
    /// For each measured name, the things that wait for it.
    waiting: BTreeMap<String, Vec<usize>>,
    placed: Vec<bool>,
    ready: VecDeque<usize>,
}

impl<'a> Queue<'a> {
    fn of(field: &Field<'a>) -> Result<Self, Vec<Fault>> {
        let plan = field.plan;
        let owners = owners(plan);
        let index: BTreeMap<Owner, usize> =
            owners.iter().enumerate().map(|(i, (owner, ..))| (*owner, i)).collect();
        let by_name: BTreeMap<&str, usize> =
            names(plan).into_iter().filter_map(|(name, owner)| Some((name, *index.get(&owner)?))).collect();
        let mut faults = Vec::new();
        let mut waits_for: Vec<usize> = vec![0; owners.len()];
        let mut releases: Vec<Vec<usize>> = vec![Vec::new(); owners.len()];
        let mut waiting: BTreeMap<String, Vec<usize>> = BTreeMap::new();
        for (i, (_, refs, _)) in owners.iter().enumerate() {
            for point in refs {
                let name = field.rings.name(point);
                if field.measured.contains(&name) {
                    waits_for[i] += 1;
                    waiting.entry(name).or_default().push(i);
                } else if let Some(&before) = by_name.get(owner_key(point)) {
                    waits_for[i] += 1;
                    releases[before].push(i);
                } else {
                    faults.push(unknown(point, &by_name));
                }
            }
        }
        if !faults.is_empty() {
            return Err(faults);
        }
        // First come, first placed, so that the order is the file's wherever it can be.
        let ready: VecDeque<usize> = (0..owners.len()).filter(|&i| waits_for[i] == 0).collect();
        let placed = vec![false; owners.len()];
        let owners = owners.into_iter().map(|(owner, _, span)| (owner, span)).collect();
        Ok(Self { owners, by_name, waits_for, releases, waiting, placed, ready })
    }

    /// The next thing that can be placed.
    fn next(&mut self) -> Option<Owner> {
        let i = self.ready.pop_front()?;
        self.placed[i] = true;
        for next in std::mem::take(&mut self.releases[i]) {
            self.release(next);
        }
        self.owners.get(i).map(|(owner, _)| *owner)
    }

    /// A measured name has its place, or is known to have none.
    fn measured(&mut self, name: &str) {
        for next in self.waiting.remove(name).unwrap_or_default() {
            self.release(next);
        }
    }

    fn release(&mut self, i: usize) {
        self.waits_for[i] -= 1;
        if self.waits_for[i] == 0 {
            self.ready.push_back(i);
        }
    }

    /// True when every point that a measurement mentions is measured itself or has its place.
    fn is_ready(&self, names: &BTreeSet<String>, field: &Field<'_>) -> bool {
        names.iter().all(|name| {
            let owner = name.split_once('.').map_or(name.as_str(), |(owner, _)| owner);
            field.measured.contains(name) || self.by_name.get(owner).is_none_or(|i| self.placed[*i])
        })
    }

    fn stuck(&self) -> Vec<Fault> {
        let stuck = self.owners.iter().zip(&self.waits_for).filter(|(_, waits)| **waits > 0);
        stuck.map(|((_, span), _)| circular(*span)).collect()
    }
}

/// Every point that something is placed by.
pub(crate) fn placing_names(plan: &Plan) -> impl Iterator<Item = &PointRef> {
    owners(plan).into_iter().flat_map(|(_, refs, _)| refs)
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
        if let Some(Curve::Through(place)) = vertex.curve.as_deref() {
            in_place(place, refs);
        }
    }
}

fn in_place<'a>(place: &'a Place, refs: &mut Vec<&'a PointRef>) {
    match place {
        Place::Near { .. } | Place::At { .. } => {}
        Place::Point(point) => refs.push(point),
        Place::From { base, .. } => refs.push(base),
        Place::Along { wall, .. } => refs.extend([&wall.from, &wall.to]),
    }
}

fn unknown(point: &PointRef, known: &BTreeMap<&str, usize>) -> Fault {
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
