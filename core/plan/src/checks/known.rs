//! Everything that a point can be named by: corners, points, features that are places, and what is measured.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{Fact, Geometry, Path, Plan, PointRef, Reading};
use crate::written::Draft;
use crate::written::measured::{PointName, name_of};
use crate::{Name, visit};

/// What stands somewhere, by name.
pub(super) struct Known {
    /// The corners of every lot and feature that could be read; a thing that is itself a place has none.
    corners: BTreeMap<Name, Vec<Name>>,
    /// The things whose corners form an outline.
    outlines: BTreeSet<Name>,
    /// The points of `[points]`.
    points: BTreeSet<Name>,
    /// Features that are a point or a circle.
    places: BTreeSet<Name>,
    /// The ids of lots and features.
    ids: BTreeSet<Name>,
    /// Points that measurements place.
    measured: BTreeSet<PointName>,
    /// Points that measurements use.
    used: BTreeSet<PointName>,
    /// Things said to be square: each of their corners follows from the others.
    square: BTreeSet<Name>,
    /// Points that have a height.
    heights: BTreeSet<PointName>,
}

impl Known {
    pub(super) fn of(draft: &Draft) -> Self {
        let plan = &draft.plan;
        let is_place = |geometry: &Option<Geometry>| {
            matches!(geometry, Some(Geometry::Spot(_) | Geometry::Circle { .. }))
        };
        let places = plan.features.iter().filter(|feature| is_place(&feature.geometry));
        let is_outline = |geometry: &Option<Geometry>| {
            matches!(geometry, Some(Geometry::Outline { .. } | Geometry::Box { .. }))
        };
        let outlines = plan.features.iter().filter(|feature| is_outline(&feature.geometry));
        let outlines = outlines.map(|feature| &feature.id).chain(plan.lots.iter().map(|lot| &lot.id));
        let readings = plan.measurements.iter().map(|measurement| &measurement.reading);
        Self {
            corners: corners(plan),
            outlines: outlines.map(|id| id.value.clone()).collect(),
            points: draft.points.clone(),
            places: places.map(|feature| feature.id.value.clone()).collect(),
            ids: draft.ids.iter().map(|id| id.value.clone()).collect(),
            measured: placed_names(plan),
            used: readings.clone().flat_map(visit::used).map(name_of).collect(),
            square: readings.clone().filter_map(squared).cloned().collect(),
            heights: readings.flat_map(visit::levelled).map(name_of).collect(),
        }
    }

    /// True when the point has a place, however it got it.
    pub(super) fn stands(&self, point: &PointRef) -> bool {
        let owner_is_there = |owner: &Name| self.ids.contains(owner);
        match &point.owner {
            None => {
                self.points.contains(&point.point)
                    || self.places.contains(&point.point)
                    || (self.is_measured(point) && !self.has_own_corners(&point.point))
            }
            Some(owner) => {
                self.corners.get(owner).is_some_and(|corners| corners.contains(&point.point))
                    || (self.is_measured(point) && owner_is_there(owner))
            }
        }
    }

    /// True when a measurement may place the point: a thing with corners is no point, and a corner needs its thing.
    pub(super) fn may_be_placed(&self, point: &PointRef) -> bool {
        match &point.owner {
            None => self.points.contains(&point.point) || !self.has_own_corners(&point.point),
            Some(owner) => self.ids.contains(owner),
        }
    }

    pub(super) fn is_measured(&self, point: &PointRef) -> bool {
        self.measured.contains(&name_of(point))
    }

    /// True when some measurement bears on a corner of a thing, so that its place may follow from it.
    pub(super) fn bears_on(&self, point: &PointRef) -> bool {
        let of_square = point.owner.as_ref().is_some_and(|owner| self.square.contains(owner));
        self.is_measured(point) || self.used.contains(&name_of(point)) || of_square
    }

    pub(super) fn has_height(&self, point: &PointRef) -> bool {
        self.heights.contains(&name_of(point))
    }

    /// True for a lot or feature that could be read, even when it has no corner.
    pub(super) fn has_corners(&self, owner: &Name) -> bool {
        self.corners.contains_key(owner)
    }

    /// True for a lot or feature with corners of its own.
    fn has_own_corners(&self, owner: &Name) -> bool {
        self.corners.get(owner).is_some_and(|corners| !corners.is_empty())
    }

    /// True for a lot, an outline or a box.
    pub(super) fn has_outline(&self, owner: &Name) -> bool {
        self.outlines.contains(owner)
    }

    pub(super) fn is_corner_of_outline(&self, owner: &Name, corner: &Name) -> bool {
        self.has_outline(owner) && self.corners.get(owner).is_some_and(|corners| corners.contains(corner))
    }

    /// The corners of a thing, then its other measured points.
    pub(super) fn corners_of(&self, owner: &Name) -> Vec<&str> {
        let mut corners: Vec<&str> =
            self.corners.get(owner).into_iter().flatten().map(|corner| corner.0.as_str()).collect();
        for corner in self.measured_corners(owner) {
            if !corners.contains(&corner) {
                corners.push(corner);
            }
        }
        corners
    }

    /// The measured points of a thing.
    pub(super) fn measured_corners(&self, owner: &Name) -> impl Iterator<Item = &str> {
        let of_owner = self.measured.iter().filter(move |(of, _)| of.as_ref() == Some(owner));
        of_owner.map(|(_, point)| point.0.as_str())
    }

    /// Every point that has no owner, by name.
    pub(super) fn points(&self) -> impl Iterator<Item = &str> {
        let measured = self.measured.iter().filter(|(owner, _)| owner.is_none()).map(|(_, point)| point);
        self.points.iter().chain(&self.places).chain(measured).map(|name| name.0.as_str())
    }
}

fn squared(reading: &Reading) -> Option<&Name> {
    match reading {
        Reading::Fact(Fact::Square(thing)) => Some(&thing.value),
        _ => None,
    }
}

fn corners(plan: &Plan) -> BTreeMap<Name, Vec<Name>> {
    let of_path = |path: &Path| path.vertices.iter().filter_map(|vertex| vertex.corner.clone()).collect();
    let lots = plan.lots.iter().map(|lot| (lot.id.value.clone(), of_path(&lot.ring)));
    let features = plan.features.iter().map(|feature| {
        let corners = match &feature.geometry {
            Some(Geometry::Outline { ring: path, .. } | Geometry::Line { path, .. }) => of_path(path),
            Some(Geometry::Box { .. }) => ["sw", "se", "ne", "nw"].map(|name| Name(name.to_owned())).to_vec(),
            Some(Geometry::Spot(_) | Geometry::Circle { .. }) | None => Vec::new(),
        };
        (feature.id.value.clone(), corners)
    });
    lots.chain(features).collect()
}

/// The points that measurements place, by name.
fn placed_names(plan: &Plan) -> BTreeSet<PointName> {
    let readings = plan.measurements.iter().map(|measurement| &measurement.reading);
    readings.flat_map(visit::placed).map(name_of).collect()
}
