//! References to points: each must name one that is there.

use std::collections::BTreeSet;

use super::known::Known;
use crate::model::{Fact, Geometry, Path, Place, Plan, PointRef, Reading};
use crate::reader::{Reader, list, nearest};
use crate::written::Draft;
use crate::written::measured::{ids, name_of};
use crate::written::reference::{wall_splits, wall_text};
use crate::{At, Fault, Name, visit};

/// Takes walls apart at the right hyphen, where corners have hyphens in their names.
pub(super) fn settle_walls(draft: &mut Draft) {
    let known = Known::of(draft);
    visit::walls_mut(&mut draft.plan, &mut |wall| {
        let Some(text) = wall_text(wall) else { return };
        let mut splits = wall_splits(&text, wall.from.span);
        splits.retain(|split| known.stands(&split.from) && known.stands(&split.to));
        if let Some(split) = splits.into_iter().next() {
            *wall = split;
        }
    });
}

/// True when every reference names something that could be read.
pub(super) fn check(draft: &Draft, known: &Known, reader: &mut Reader<'_>) -> bool {
    let plan = &draft.plan;
    let mut sound = draft.points.len() == plan.points.len() && draft.doubtful.is_empty();
    let mut judge = |fault: Option<Fault>| {
        sound = false;
        if let Some(fault) = fault {
            reader.tell(fault);
        }
    };
    for point in named_in_places(plan) {
        if !known.stands(point) {
            judge(fault_of(point, draft, known));
        }
    }
    for (owner, point) in own_corners(plan) {
        if !known.bears_on(point) {
            judge(unmeasured(owner, point, draft, known));
        }
    }
    for reading in plan.measurements.iter().map(|measurement| &measurement.reading) {
        for point in visit::placed(reading) {
            if !known.may_be_placed(point) {
                judge(fault_of(point, draft, known));
            }
        }
        for point in visit::used(reading) {
            if !known.stands(point) {
                judge(fault_of(point, draft, known));
            }
        }
        for point in visit::levelled(reading) {
            if point.owner.is_some() && !known.stands(point) {
                judge(fault_of(point, draft, known));
            }
        }
        if let Reading::Fall(fall) = reading {
            for point in [&fall.from, &fall.to] {
                if !known.stands(point) && !known.has_height(point) {
                    judge(fault_of(point, draft, known));
                }
            }
        }
        match reading {
            Reading::Fact(Fact::Square(thing)) if !known.has_outline(&thing.value) => {
                judge(no_outline(thing, draft));
            }
            Reading::Fact(Fact::RightAngle { at, arms: None }) if known.stands(at) => {
                let is_corner =
                    at.owner.as_ref().is_some_and(|owner| known.is_corner_of_outline(owner, &at.point));
                if !is_corner {
                    judge(Some(no_neighbours(at)));
                }
            }
            _ => {}
        }
    }
    for mark in &plan.ground.levels {
        if !known.stands(&mark.point) {
            judge(fault_of(&mark.point, draft, known));
        }
    }
    for point in &plan.ground.not_ground {
        if !known.stands(point) && !known.has_height(point) {
            judge(fault_of(point, draft, known));
        }
    }
    sound
}

fn named_in_places(plan: &Plan) -> impl Iterator<Item = &PointRef> {
    let of_points = plan.points.iter().flat_map(|point| visit::refs_of(&point.place));
    let of_lots = plan.lots.iter().flat_map(|lot| visit::refs_in_path(&lot.ring));
    let shapes = plan.features.iter().filter_map(|feature| feature.geometry.as_ref());
    of_points.chain(of_lots).chain(shapes.flat_map(visit::refs_in_geometry))
}

/// Vertices that are the thing's own corners by name, `house.sw` in the outline of `house`: measurements place them.
fn own_corners(plan: &Plan) -> impl Iterator<Item = (&Name, &PointRef)> {
    let lots = plan.lots.iter().map(|lot| (&lot.id.value, &lot.ring));
    let features = plan.features.iter().filter_map(|feature| match &feature.geometry {
        Some(Geometry::Outline { ring: path, .. } | Geometry::Line { path, .. }) => {
            Some((&feature.id.value, path))
        }
        _ => None,
    });
    lots.chain(features).flat_map(|(owner, path): (&Name, &Path)| {
        path.vertices.iter().filter_map(move |vertex| match &vertex.place {
            Place::Point(point)
                if point.owner.as_ref() == Some(owner) && vertex.corner.as_ref() == Some(&point.point) =>
            {
                Some((owner, point))
            }
            _ => None,
        })
    })
}

fn unmeasured(owner: &Name, point: &PointRef, draft: &Draft, known: &Known) -> Option<Fault> {
    if draft.doubtful.contains(&name_of(point)) {
        return None;
    }
    let message = format!("No measurement says where `{}` is.", ids::in_words(point));
    let fault = Fault::new("plan::unknown-point", message, point.span, "not measured");
    let measured: Vec<&str> = known.measured_corners(owner).collect();
    let corners: BTreeSet<&str> = measured.iter().copied().collect();
    Some(fault.with_help(match nearest(&point.point.0, corners) {
        Some(near) => format!("Did you mean `{}.{near}`? Or name it in a [[chain]] or a [[tie]].", owner.0),
        None => "Name it as a mark of a [[chain]], in a [[tie]] or a [[traverse]].".to_owned(),
    }))
}

/// What is wrong with a point that does not stand anywhere; nothing when that was told already.
fn fault_of(point: &PointRef, draft: &Draft, known: &Known) -> Option<Fault> {
    if draft.doubtful.contains(&name_of(point)) {
        return None;
    }
    match &point.owner {
        None => unknown_point(point, draft, known),
        Some(owner) if known.has_corners(owner) => Some(unknown_corner(owner, point, known)),
        Some(owner) if draft.ids.iter().any(|id| id.value == *owner) => None,
        Some(owner) => Some(unknown_owner(owner, point, draft)),
    }
}

fn unknown_point(point: &PointRef, draft: &Draft, known: &Known) -> Option<Fault> {
    let name = &point.point;
    if !known.has_corners(name) && draft.ids.iter().any(|id| id.value == *name) {
        return None;
    }
    let fault = Fault::new(
        "plan::unknown-point",
        format!("There is no point `{}`.", name.0),
        point.span,
        "not a point",
    );
    if known.has_height(point) {
        let fault = Fault { message: format!("`{}` has a height and no place.", name.0), ..fault };
        return Some(
            fault.with_help("Measure it with a [[tie]] or a [[chain]], or place it under [points]."),
        );
    }
    let corners = known.corners_of(name);
    Some(fault.with_help(match (corners.first(), nearest(&name.0, known.points())) {
        (Some(corner), _) => format!("`{0}` is a thing; name one of its corners, as `{0}.{corner}`.", name.0),
        (None, _) if known.has_corners(name) => format!("`{}` is only stated and stands nowhere.", name.0),
        (None, Some(near)) => format!("Did you mean `{near}`?"),
        (None, None) => format!(
            "Measure it with a [[chain]] or a [[tie]], or add it under [points]: `{} = [6, 10]`.",
            name.0
        ),
    }))
}

fn unknown_corner(owner: &Name, point: &PointRef, known: &Known) -> Fault {
    let corners = known.corners_of(owner);
    let corner = point.point.0.as_str();
    let message = format!("`{}` has no corner `{corner}`.", owner.0);
    let fault = Fault::new("plan::unknown-point", message, point.span, "no such corner");
    let is_wall = corner.split_once('-').is_some_and(|(a, b)| corners.contains(&a) && corners.contains(&b));
    fault.with_help(match nearest(corner, corners.iter().copied()) {
        _ if is_wall => format!("`{}.{corner}` is a wall; a point is one of its ends.", owner.0),
        Some(near) => format!("Did you mean `{}.{near}`?", owner.0),
        None if corners.is_empty() => format!("`{}` has no corners; name a point of [points].", owner.0),
        None => format!("Its corners are {}.", list(corners)),
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

/// What is said to be square and has no outline.
fn no_outline(thing: &At<Name>, draft: &Draft) -> Option<Fault> {
    let name = thing.value.0.as_str();
    let plan = &draft.plan;
    let read = plan.lots.iter().map(|lot| &lot.id.value).chain(plan.features.iter().map(|it| &it.id.value));
    let ids = || draft.ids.iter().map(|id| id.value.0.as_str());
    if read.into_iter().any(|id| *id == thing.value) {
        let message = format!("`{name}` has no outline that could be square.");
        let fault = Fault::new("plan::unknown-feature", message, thing.span, "no outline");
        return Some(fault.with_help("Name a lot, or a feature with `outline` or `box`."));
    }
    // It is there and could not be read, which has its fault.
    if ids().any(|id| id == name) {
        return None;
    }
    let message = format!("There is no feature or lot `{name}`.");
    let fault = Fault::new("plan::unknown-feature", message, thing.span, "not here");
    Some(fault.with_help(match nearest(name, ids()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => "Name the `id` of a feature or lot.".to_owned(),
    }))
}

fn no_neighbours(at: &PointRef) -> Fault {
    let corner = ids::in_words(at);
    let message = format!("`{corner}` is no corner of an outline, so its neighbours are not known.");
    let fault = Fault::new("plan::no-arms", message, at.span, "between which points?");
    fault.with_help(format!(
        "Name three points with the corner in the middle: `[\"a\", \"{corner}\", \"b\"]`."
    ))
}
