//! References to points: each must name one that is there.

use std::collections::{BTreeMap, BTreeSet};

use crate::model::{Geometry, Path, Plan, PointRef};
use crate::reader::{Reader, list, nearest};
use crate::written::Draft;
use crate::written::reference::{wall_splits, wall_text};
use crate::{Fault, Name, visit};

/// The corners of every lot and feature that could be read; a thing that is itself a place has none.
struct Corners(BTreeMap<Name, Vec<Name>>);

impl Corners {
    fn of(plan: &Plan) -> Self {
        let of_path = |path: &Path| path.vertices.iter().filter_map(|vertex| vertex.corner.clone()).collect();
        let lots = plan.lots.iter().map(|lot| (lot.id.value.clone(), of_path(&lot.ring)));
        let features = plan.features.iter().map(|feature| {
            let corners = match &feature.geometry {
                Some(Geometry::Outline { ring: path, .. } | Geometry::Line { path, .. }) => of_path(path),
                Some(Geometry::Box { .. }) => {
                    ["sw", "se", "ne", "nw"].map(|name| Name(name.to_owned())).to_vec()
                }
                Some(Geometry::Spot(_) | Geometry::Circle { .. }) | None => Vec::new(),
            };
            (feature.id.value.clone(), corners)
        });
        Self(lots.chain(features).collect())
    }

    fn has(&self, owner: &Name, corner: &Name) -> bool {
        self.0.get(owner).is_some_and(|corners| corners.contains(corner))
    }
}

/// Takes walls apart at the right hyphen, where corners have hyphens in their names.
pub(super) fn settle_walls(plan: &mut Plan) {
    let corners = Corners::of(plan);
    let points: BTreeSet<Name> = plan.points.iter().map(|point| point.name.value.clone()).collect();
    let known = |point: &PointRef| match &point.owner {
        Some(owner) => corners.has(owner, &point.point),
        None => points.contains(&point.point),
    };
    visit::walls_mut(plan, &mut |wall| {
        let Some(text) = wall_text(wall) else { return };
        let mut splits = wall_splits(&text, wall.from.span);
        splits.retain(|split| known(&split.from) && known(&split.to));
        if let Some(split) = splits.into_iter().next() {
            *wall = split;
        }
    });
}

/// True when every reference names something that could be read.
pub(super) fn check(draft: &Draft, reader: &mut Reader<'_>) -> bool {
    let plan = &draft.plan;
    let of_points = plan.points.iter().flat_map(|point| visit::refs_of(&point.place));
    let of_lots = plan.lots.iter().flat_map(|lot| visit::refs_in_path(&lot.ring));
    let of_features = plan
        .features
        .iter()
        .filter_map(|feature| feature.geometry.as_ref())
        .flat_map(visit::refs_in_geometry);
    let corners = Corners::of(plan);
    let ids: BTreeSet<&Name> = draft.ids.iter().map(|id| &id.value).collect();
    let places: BTreeSet<&Name> = plan
        .features
        .iter()
        .filter(|feature| matches!(feature.geometry, Some(Geometry::Spot(_) | Geometry::Circle { .. })))
        .map(|feature| &feature.id.value)
        .collect();
    let mut sound = draft.points.len() == plan.points.len();
    for point in of_points.chain(of_lots).chain(of_features) {
        let fault = match &point.owner {
            None if draft.points.contains(&point.point) || places.contains(&point.point) => continue,
            None => unknown_point(point, draft, &corners, &places),
            Some(owner) if corners.has(owner, &point.point) => continue,
            Some(owner) if corners.0.contains_key(owner) => Some(unknown_corner(owner, point, &corners)),
            Some(owner) if ids.contains(owner) => None,
            Some(owner) => Some(unknown_owner(owner, point, draft)),
        };
        sound = false;
        if let Some(fault) = fault {
            reader.tell(fault);
        }
    }
    sound
}

fn unknown_point(
    point: &PointRef,
    draft: &Draft,
    corners: &Corners,
    places: &BTreeSet<&Name>,
) -> Option<Fault> {
    let name = &point.point;
    let its_corners = corners.0.get(name);
    if its_corners.is_none() && draft.ids.iter().any(|id| id.value == *name) {
        return None;
    }
    let fault = Fault::new(
        "plan::unknown-point",
        format!("There is no point `{}`.", name.0),
        point.span,
        "not a point",
    );
    let known = draft.points.iter().chain(places.iter().copied()).map(|name| name.0.as_str());
    Some(fault.with_help(match (its_corners.and_then(|corners| corners.first()), nearest(&name.0, known)) {
        (Some(corner), _) => {
            format!("`{0}` is a thing; name one of its corners, as `{0}.{1}`.", name.0, corner.0)
        }
        (None, _) if its_corners.is_some() => format!("`{}` is only stated and stands nowhere.", name.0),
        (None, Some(near)) => format!("Did you mean `{near}`?"),
        (None, None) => format!("Add it under [points], for example `{} = [6, 10]`.", name.0),
    }))
}

fn unknown_corner(owner: &Name, point: &PointRef, corners: &Corners) -> Fault {
    let known: Vec<&str> =
        corners.0.get(owner).into_iter().flatten().map(|corner| corner.0.as_str()).collect();
    let corner = point.point.0.as_str();
    let message = format!("`{}` has no corner `{corner}`.", owner.0);
    let fault = Fault::new("plan::unknown-point", message, point.span, "no such corner");
    let is_wall = corner.split_once('-').is_some_and(|(a, b)| known.contains(&a) && known.contains(&b));
    fault.with_help(match nearest(corner, known.iter().copied()) {
        _ if is_wall => format!("`{}.{corner}` is a wall; a point is one of its ends.", owner.0),
        Some(near) => format!("Did you mean `{}.{near}`?", owner.0),
        None if known.is_empty() => format!("`{}` has no corners; name a point of [points].", owner.0),
        None => format!("Its corners are {}.", list(known)),
    })
}

fn unknown_owner(owner: &Name, point: &PointRef, draft: &Draft) -> Fault {
    let message = format!("There is no feature or lot `{}`.", owner.0);
    let fault = Fault::new("plan::unknown-point", message, point.span, "not here");
    match nearest(&owner.0, draft.ids.iter().map(|id| id.value.0.as_str())) {
        Some(near) => fault.with_help(format!("Did you mean `{near}.{}`?", point.point.0)),
        None => fault.with_help("The part before the dot is the `id` of a feature or lot."),
    }
}
