//! Walks over every place in a plan and over every point that one names.

mod measured;

pub(crate) use measured::{levelled, placed, used};

use crate::model::{Accuracy, Anchor, Curve, Geometry, Path, Place, Plan, PointRef, Vertex, WallRef};

/// Every place in a path: of its vertices, and those its arcs go through.
pub(crate) fn in_path(path: &Path) -> Vec<&Place> {
    let mut places = Vec::with_capacity(path.vertices.len());
    for vertex in &path.vertices {
        places.push(&vertex.place);
        if let Some(Curve::Through(place)) = vertex.curve.as_deref() {
            places.push(place);
        }
    }
    places
}

/// Every place in a shape; a box along a wall has none of its own.
pub(crate) fn in_geometry(geometry: &Geometry) -> Vec<&Place> {
    match geometry {
        Geometry::Outline { ring, holes } => std::iter::once(ring).chain(holes).flat_map(in_path).collect(),
        Geometry::Line { path, .. } => in_path(path),
        Geometry::Spot(place)
        | Geometry::Circle { centre: place, .. }
        | Geometry::Box { anchor: Anchor::Corner { place, .. }, .. } => vec![place],
        Geometry::Box { anchor: Anchor::Wall { .. }, .. } => Vec::new(),
    }
}

/// Every point a place is set out from.
pub(crate) fn refs_of(place: &Place) -> Vec<&PointRef> {
    match place {
        Place::Near { .. } | Place::At { .. } => Vec::new(),
        Place::Point(point) => vec![point],
        Place::From { base, .. } => vec![base],
        Place::Along { wall, .. } => vec![&wall.from, &wall.to],
    }
}

/// Every point a path names.
pub(crate) fn refs_in_path(path: &Path) -> Vec<&PointRef> {
    in_path(path).into_iter().flat_map(refs_of).collect()
}

/// Every point a shape names.
pub(crate) fn refs_in_geometry(geometry: &Geometry) -> Vec<&PointRef> {
    match geometry {
        Geometry::Box { anchor: Anchor::Wall { wall, .. }, .. } => vec![&wall.from, &wall.to],
        _ => in_geometry(geometry).into_iter().flat_map(refs_of).collect(),
    }
}

/// True when a place has figures of its own, and is not just where a named or measured point is.
pub(crate) fn has_figures(place: &Place) -> bool {
    !matches!(place, Place::Near { .. } | Place::Point(_))
}

/// True when a path has figures of its own.
pub(crate) fn path_has_figures(path: &Path) -> bool {
    in_path(path).into_iter().any(has_figures)
        || path.vertices.iter().any(|vertex| matches!(vertex.curve.as_deref(), Some(Curve::Radius { .. })))
}

/// True when a shape has figures of its own.
pub(crate) fn shape_has_figures(geometry: &Geometry) -> bool {
    match geometry {
        Geometry::Outline { ring, holes } => std::iter::once(ring).chain(holes).any(path_has_figures),
        Geometry::Line { path, width } => width.is_some() || path_has_figures(path),
        Geometry::Spot(place) => has_figures(place),
        Geometry::Box { .. } | Geometry::Circle { .. } => true,
    }
}

/// Everything that says how well something is known.
pub(crate) fn accuracies(plan: &Plan) -> impl Iterator<Item = &Accuracy> {
    let sizes = plan.features.iter().filter_map(|feature| match &feature.geometry {
        Some(Geometry::Box { sizes_by, .. }) => sizes_by.as_ref(),
        _ => None,
    });
    let said = plan.site.by.iter();
    let said = said.chain(plan.points.iter().filter_map(|point| point.by.as_ref()));
    let said = said.chain(plan.measurements.iter().filter_map(|measurement| measurement.by.as_ref()));
    let said = said.chain(plan.lots.iter().filter_map(|lot| lot.by.as_ref()));
    let said = said.chain(plan.sheet.checked.iter().map(|checked| &checked.by)).chain(&plan.ground.by);
    said.chain(plan.features.iter().filter_map(|feature| feature.by.as_ref())).chain(sizes)
}

/// Calls `change` with every wall of a plan.
pub(crate) fn walls_mut(plan: &mut Plan, change: &mut dyn FnMut(&mut WallRef)) {
    for point in &mut plan.points {
        wall_of(&mut point.place, change);
    }
    for lot in &mut plan.lots {
        walls_of(&mut lot.ring.vertices, change);
    }
    for geometry in plan.features.iter_mut().filter_map(|feature| feature.geometry.as_mut()) {
        match geometry {
            Geometry::Outline { ring, holes } => {
                walls_of(&mut ring.vertices, change);
                for hole in holes {
                    walls_of(&mut hole.vertices, change);
                }
            }
            Geometry::Line { path, .. } => walls_of(&mut path.vertices, change),
            Geometry::Spot(place)
            | Geometry::Circle { centre: place, .. }
            | Geometry::Box { anchor: Anchor::Corner { place, .. }, .. } => wall_of(place, change),
            Geometry::Box { anchor: Anchor::Wall { wall, .. }, .. } => change(wall),
        }
    }
    measured::walls_mut(plan, change);
}

fn walls_of(vertices: &mut [Vertex], change: &mut dyn FnMut(&mut WallRef)) {
    for vertex in vertices {
        wall_of(&mut vertex.place, change);
        if let Some(Curve::Through(place)) = vertex.curve.as_deref_mut() {
            wall_of(place, change);
        }
    }
}

fn wall_of(place: &mut Place, change: &mut dyn FnMut(&mut WallRef)) {
    if let Place::Along { wall, .. } = place {
        change(wall);
    }
}
