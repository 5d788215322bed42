//! Which names measurements work out, and which already have a place.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Fact, Geometry, Measurement, Path, Place, Plan, PointRef, Reading, WallRef};

use crate::boxes::CORNERS;

/// A corner of an outline: its name within its owner, and the point it stands on where it is set on one.
type Corner<'a> = (&'a str, Option<&'a PointRef>);

/// The corners of every lot and outlined feature, in order.
#[derive(Default)]
pub(crate) struct Rings<'a> {
    by_owner: BTreeMap<&'a str, Vec<Corner<'a>>>,
    /// Lots first, then features, in file order, outlines before boxes.
    order: Vec<&'a str>,
    /// Features that are lines.
    lines: Vec<&'a str>,
    /// How many of them are lots.
    lots: usize,
    /// The only lot of the plan: its corners may be named without it.
    only_lot: Option<&'a str>,
    points: BTreeSet<&'a str>,
}

impl<'a> Rings<'a> {
    pub(crate) fn of(plan: &'a Plan) -> Self {
        // Names matter only to measurements; a plan of plain coordinates, however large, pays nothing for them.
        if plan.measurements.is_empty() {
            return Self::default();
        }
        let lots = plan.lots.iter().map(|lot| (lot.id.value.0.as_str(), &lot.ring));
        let features = plan.features.iter().filter_map(|feature| match feature.geometry.as_ref()? {
            Geometry::Outline { ring, .. } => Some((feature.id.value.0.as_str(), ring)),
            _ => None,
        });
        let rings: Vec<_> = lots.chain(features).collect();
        let boxes = plan.features.iter().filter_map(|feature| match feature.geometry.as_ref()? {
            Geometry::Box { .. } => {
                Some((feature.id.value.0.as_str(), CORNERS.map(|corner| (corner, None)).to_vec()))
            }
            _ => None,
        });
        let boxes: Vec<(&str, Vec<Corner<'_>>)> = boxes.collect();
        let lines = plan.features.iter().filter_map(|feature| match feature.geometry.as_ref()? {
            Geometry::Line { path, .. } => Some((feature.id.value.0.as_str(), path)),
            _ => None,
        });
        let lines: Vec<_> = lines.collect();
        Self {
            lines: lines.iter().map(|(owner, _)| *owner).collect(),
            lots: plan.lots.len(),
            order: rings
                .iter()
                .map(|(owner, _)| *owner)
                .chain(boxes.iter().map(|(owner, _)| *owner))
                .collect(),
            by_owner: rings
                .into_iter()
                .chain(lines)
                .map(|(owner, ring)| (owner, corners(ring)))
                .chain(boxes)
                .collect(),
            only_lot: (plan.lots.len() == 1)
                .then(|| plan.lots.first().map(|lot| lot.id.value.0.as_str()))
                .flatten(),
            points: plan.points.iter().map(|point| point.name.value.0.as_str()).collect(),
        }
    }

    /// The one name of a point, however it is referred to: a corner that stands on a point has that point's.
    pub(crate) fn name(&self, point: &PointRef) -> String {
        let mut point = point;
        // A corner stands on a point, which may be a corner again; no chain of them is longer than the plan.
        for _ in 0..=self.order.len() {
            let owner = match &point.owner {
                Some(owner) => Some(owner.0.as_str()),
                None if self.points.contains(point.point.0.as_str()) => None,
                None => self.only_lot.filter(|lot| {
                    let corner = self.corner(lot, &point.point.0);
                    corner.is_some_and(|on| on.is_none_or(|on| on.full() != point.full()))
                }),
            };
            let on = owner.and_then(|owner| self.corner(owner, &point.point.0)).flatten();
            match on {
                Some(on) if on.full() != point.full() => point = on,
                _ => {
                    return owner
                        .map_or_else(|| point.point.0.clone(), |owner| format!("{owner}.{}", point.point.0));
                }
            }
        }
        point.full()
    }

    /// The names of a ring's corners in order; none when it has no such ring.
    pub(crate) fn ring(&self, owner: &str) -> Option<Vec<String>> {
        let corners = self.by_owner.get(owner)?;
        Some(
            corners
                .iter()
                .map(|(corner, on)| match on {
                    Some(on) => self.name(on),
                    None => format!("{owner}.{corner}"),
                })
                .collect(),
        )
    }

    /// Owners of rings: lots first, then features, in file order, outlines before boxes.
    pub(crate) fn owners(&self) -> impl Iterator<Item = &'a str> {
        self.order.iter().copied()
    }

    /// True when a corner of its ring is set on a point.
    pub(crate) fn stands_on_points(&self, owner: &str) -> bool {
        self.by_owner.get(owner).is_some_and(|ring| ring.iter().any(|(_, on)| on.is_some()))
    }

    /// True for the id of a lot.
    pub(crate) fn is_lot(&self, owner: &str) -> bool {
        self.order.iter().take(self.lots).any(|lot| *lot == owner)
    }

    /// The names of a corner's neighbours on its ring, for a corner of an outline.
    pub(crate) fn neighbours(&self, corner: &PointRef) -> Option<(String, String)> {
        let owner = corner.owner.as_ref().map(|owner| owner.0.as_str()).or(self.only_lot)?;
        let ring = self.ring(owner)?;
        let at = self.by_owner.get(owner)?.iter().position(|(name, _)| *name == corner.point.0)?;
        let n = ring.len();
        Some((ring[(at + n - 1) % n].clone(), ring[(at + 1) % n].clone()))
    }

    #[expect(
        clippy::option_option,
        reason = "a corner that is not there is not one without a point of its own"
    )]
    fn corner(&self, owner: &str, corner: &str) -> Option<Option<&'a PointRef>> {
        self.by_owner.get(owner)?.iter().find(|(name, _)| *name == corner).map(|(_, on)| *on)
    }
}

fn corners(path: &Path) -> Vec<Corner<'_>> {
    path.vertices
        .iter()
        .map(|vertex| {
            let on = match &vertex.place {
                Place::Point(point) => Some(point),
                _ => None,
            };
            (vertex.corner.as_ref().map_or("", |name| name.0.as_str()), on)
        })
        .collect()
}

/// The names that measurements work out: those they introduce that have no place of their own.
pub(crate) fn measured(plan: &Plan, rings: &Rings<'_>) -> BTreeSet<String> {
    let near = plan.points.iter().filter(|point| matches!(point.place, Place::Near { .. }));
    let mut names: BTreeSet<String> = near.map(|point| point.name.value.0.clone()).collect();
    for measurement in &plan.measurements {
        names.extend(introduced(&measurement.reading).into_iter().map(|point| rings.name(point)));
    }
    // A corner that stands on itself is somewhere measurements put it, named by one or following from others.
    for owner in rings.order.iter().chain(&rings.lines) {
        let own = rings.by_owner.get(owner).into_iter().flatten().filter_map(|(_, on)| *on);
        names
            .extend(own.filter(|on| on.owner.as_ref().is_some_and(|of| of.0 == **owner)).map(PointRef::full));
    }
    if !names.is_empty() {
        let placed = placed(plan);
        names.retain(|name| !placed.contains(name));
    }
    names
}

/// The full names that have a place written for them.
fn placed(plan: &Plan) -> BTreeSet<String> {
    let on_itself = |name: &str, place: &Place| matches!(place, Place::Point(on) if on.full() == name);
    let mut names = BTreeSet::new();
    for point in plan.points.iter().filter(|point| !matches!(point.place, Place::Near { .. })) {
        names.insert(point.name.value.0.clone());
    }
    let mut of_path = |owner: &str, path: &Path| {
        for vertex in &path.vertices {
            let Some(corner) = &vertex.corner else { continue };
            let name = format!("{owner}.{}", corner.0);
            if !matches!(vertex.place, Place::Point(_)) {
                names.insert(name);
            }
        }
    };
    for lot in &plan.lots {
        of_path(&lot.id.value.0, &lot.ring);
    }
    for feature in &plan.features {
        match &feature.geometry {
            Some(Geometry::Outline { ring, .. }) => of_path(&feature.id.value.0, ring),
            Some(Geometry::Line { path, .. }) => of_path(&feature.id.value.0, path),
            _ => {}
        }
    }
    for feature in &plan.features {
        let id = &feature.id.value.0;
        match &feature.geometry {
            Some(Geometry::Spot(place) | Geometry::Circle { centre: place, .. }) if !on_itself(id, place) => {
                names.insert(id.clone());
            }
            Some(Geometry::Box { .. }) => names.extend(CORNERS.map(|corner| format!("{id}.{corner}"))),
            _ => {}
        }
    }
    names
}

/// The points a measurement may bring into being.
fn introduced(reading: &Reading) -> Vec<&PointRef> {
    match reading {
        Reading::Chain(chain) => std::iter::once(&chain.start)
            .chain(chain.pieces.iter().filter_map(|piece| piece.to.as_ref()))
            .collect(),
        Reading::Offsets(offsets) => offsets.points.iter().map(|offset| &offset.point).collect(),
        Reading::Tie(tie) => vec![&tie.point],
        Reading::Traverse(traverse) => {
            std::iter::once(&traverse.start).chain(traverse.calls.iter().map(|call| &call.to)).collect()
        }
        _ => Vec::new(),
    }
}

/// Every name a measurement of positions mentions; those of levels alone mention none.
pub(crate) fn mentioned(measurement: &Measurement, rings: &Rings<'_>) -> BTreeSet<String> {
    let wall = |wall: &WallRef| [rings.name(&wall.from), rings.name(&wall.to)];
    let mut names: BTreeSet<String> =
        introduced(&measurement.reading).into_iter().map(|point| rings.name(point)).collect();
    match &measurement.reading {
        Reading::Chain(chain) => names.extend(chain.along.iter().flat_map(wall)),
        Reading::Offsets(offsets) => names.extend(wall(&offsets.along)),
        Reading::Tie(tie) => names.extend(tie.from.iter().map(|(point, _)| rings.name(point))),
        Reading::Distance(distance) => {
            names.extend([&distance.from, &distance.to].map(|point| rings.name(point)));
        }
        Reading::Angle(angle) => {
            names.extend([&angle.at, &angle.from, &angle.to].map(|point| rings.name(point)));
        }
        Reading::Fact(fact) => names.extend(of_fact(fact, rings)),
        Reading::Traverse(_) | Reading::Height(_) | Reading::Fall(_) | Reading::LevelRun(_) => {}
    }
    names
}

fn of_fact(fact: &Fact, rings: &Rings<'_>) -> Vec<String> {
    match fact {
        Fact::Square(owner) => rings.ring(&owner.value.0).unwrap_or_default(),
        Fact::RightAngle { at, arms: Some((a, b)) } => [at, a, b].map(|point| rings.name(point)).into(),
        Fact::RightAngle { at, arms: None } => {
            let arms = rings.neighbours(at);
            std::iter::once(rings.name(at)).chain(arms.into_iter().flat_map(|(a, b)| [a, b])).collect()
        }
        Fact::Parallel(a, b) | Fact::Equal(a, b) => {
            [&a.from, &a.to, &b.from, &b.to].map(|point| rings.name(point)).into()
        }
        Fact::Straight(points) => points.iter().map(|point| rings.name(point)).collect(),
    }
}
