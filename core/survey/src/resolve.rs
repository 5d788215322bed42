//! The whole plan, placed.

use std::collections::BTreeSet;

use groundrule_plan::{
    Accuracy, Faults, Feature, Geometry, Gravity, Lot, Name, Path, Place, Plan, Remark, Role, Side, Span,
    Status,
};
use groundrule_units::{Length, SheetUnit};

use crate::boxes::{self, CORNERS};
use crate::curves::Xy;
use crate::extent;
use crate::field::Field;
use crate::field::accuracy::Class;
use crate::layout::{Layout, Owner, Point, Position, Reading, ResolvedLot, ResolvedSide, Shape};
use crate::order::{Step, placing_order};
use crate::places::{Placed, Reader, ResolvedPath, xy};
use crate::rings::{RingFault, holds, ring_fault, twice_area};
use crate::roles;
use crate::sources::Sources;
use crate::{SourceId, ground};

/// Coordinates farther out than this are shifted near zero, so that figures keep their last digits.
const FAR: f64 = 10_000.0;

/// Resolves every place of a plan.
///
/// A reference to a point that is not there, or that leads back to itself, is a fault;
/// an outline that crosses itself is a remark, and the feature stays without a shape.
pub fn resolve(plan: &Plan) -> Result<(Layout, Vec<Remark>), Faults> {
    let faults = |faults| Faults { source: plan.source.clone(), faults };
    let field = Field::of(plan);
    let order = placing_order(&field).map_err(faults)?;
    let shift = shift(plan);
    let placed = Placed::new(plan, &field, shift);
    let mut work = Work { plan, placed, remarks: Vec::new(), answered: answered(plan) };
    let mut told = Vec::new();
    for step in order {
        match step {
            Step::Place(Owner::Point(i)) => work.point(i),
            Step::Place(Owner::Lot(i)) => work.placed.lots[i as usize] = work.lot(i),
            Step::Place(Owner::Feature(i)) => work.placed.shapes[i as usize] = work.feature(i),
            Step::Place(_) => {}
            Step::Measure(batch) => told.extend(field.settle(&batch, &mut work.placed)),
        }
    }
    work.unplaced_fronts();
    let Work { mut placed, mut remarks, .. } = work;
    // There is one for each corner of the plan, and they stay.
    placed.sources.owners.shrink_to_fit();
    if !placed.faults.is_empty() {
        return Err(faults(placed.faults));
    }
    told.extend(field.level(&mut placed));
    remarks.extend(told.into_iter().map(|told| told.remark_at(&placed.named)));
    let on_paper = on_paper(plan, &mut placed.sources);
    let (ground, untaken) = ground::gather(plan, &field, &mut placed);
    remarks.extend(untaken);
    let lots = placed.lots.into_iter().map(Option::unwrap_or_default).collect();
    let layout = Layout {
        shift,
        on_paper,
        lots,
        shapes: placed.shapes,
        named: placed.named,
        sources: placed.sources.owners,
        heights: placed.heights,
        ground,
        disputed: placed.disputed,
        adjustments: placed.adjustments,
        assumptions: placed.assumptions,
    };
    extent::look(plan, &layout, &mut remarks);
    ground::look(plan, &layout, &mut remarks);
    for (x, y) in remarks.iter_mut().flat_map(|remark| &mut remark.spots) {
        (*x, *y) = (*x + shift.x, *y + shift.y);
    }
    remarks.sort_by_key(|remark| (remark.span, remark.code));
    Ok((layout, remarks))
}

/// The error of the dimension that was taken off the print with a ruler.
fn on_paper(plan: &Plan, sources: &mut Sources) -> Vec<(SourceId, Length)> {
    let Some(checked) = &plan.sheet.checked else { return Vec::new() };
    let class = Class::of_thing(plan, Some(&checked.by), false);
    let plus_minus = Length::from_metres(class.of_length(checked.on_paper.value));
    let along = sources.along(Owner::Sheet, Reading::Figure(0), &[(plus_minus, (1.0, 0.0))]);
    along.into_iter().map(|term| (term.source, term.x)).collect()
}

/// What readers of other formats say where they looked for the fronts of lots themselves.
const OF_FRONTS: [&str; 3] = ["data::front-unknown", "data::roles-assumed", "data::street-land"];

fn answered(plan: &Plan) -> BTreeSet<&Name> {
    let told = plan.remarks.iter().filter(|remark| OF_FRONTS.contains(&remark.code));
    told.flat_map(|remark| &remark.about).collect()
}

struct Work<'a> {
    plan: &'a Plan,
    placed: Placed<'a>,
    remarks: Vec<Remark>,
    /// Lots of whose front a reader has told what there is to tell.
    answered: BTreeSet<&'a Name>,
}

impl<'a> Work<'a> {
    fn reader(&self, owner: Owner, by: Option<&'a Accuracy>, proposed: bool) -> Reader<'a> {
        Reader { owner, class: Class::of_thing(self.plan, by, proposed) }
    }

    fn point(&mut self, i: u32) {
        let point = &self.plan.points[i as usize];
        if matches!(point.place, Place::Near { .. }) {
            return;
        }
        let reader = self.reader(Owner::Point(i), point.by.as_ref(), false);
        if let Some(placed) = self.placed.place(&point.place, reader, Reading::Corner(0)) {
            self.placed.named.insert(point.name.value.0.clone(), placed);
        }
    }

    fn lot(&mut self, i: u32) -> Option<ResolvedLot> {
        let lot = &self.plan.lots[i as usize];
        let reader = self.reader(Owner::Lot(i), lot.by.as_ref(), false);
        let path = self.placed.path(&lot.ring, true, reader, 0)?;
        self.name_corners(&lot.id.value, &lot.ring, &path);
        let mut sides = sides(lot, &path);
        let ring = self.ring(&lot.id.value, path.points, lot.ring.span)?;
        // Sides follow the ring; where it was written clockwise, each runs the other way.
        if ring.turned {
            sides.reverse();
            for side in &mut sides {
                side.path.reverse();
            }
        }
        let told = roles::settle(self.plan, lot, &mut sides);
        sides.extend(told.pointed);
        if !self.answered.contains(&lot.id.value) {
            self.remarks.extend(told.remarks);
        }
        Some(ResolvedLot { ring: ring.points, sides, position: told.position, pole: told.pole })
    }

    /// Lots that have no place yet, and would not say their front if they had.
    fn unplaced_fronts(&mut self) {
        for (lot, _) in self.plan.lots.iter().zip(&self.placed.lots).filter(|(_, placed)| placed.is_none()) {
            let tells = |side: &Side| {
                side.street.is_some() || side.role.as_ref().is_some_and(|role| role.value == Role::Front)
            };
            if !lot.sides.iter().any(tells) && !self.answered.contains(&lot.id.value) {
                self.remarks.push(roles::no_front(lot, &[]));
            }
        }
    }

    fn feature(&mut self, i: u32) -> Shape {
        let feature = &self.plan.features[i as usize];
        let Some(geometry) = &feature.geometry else { return Shape::Absent };
        let proposed = feature.status.as_ref().is_some_and(|status| status.value == Status::Proposed);
        let reader = self.reader(Owner::Feature(i), feature.by.as_ref(), proposed);
        self.shape(feature, geometry, reader).unwrap_or(Shape::Absent)
    }

    fn shape(&mut self, feature: &Feature, geometry: &Geometry, reader: Reader<'_>) -> Option<Shape> {
        let id = &feature.id.value;
        match geometry {
            Geometry::Outline { ring, holes } => {
                let path = self.placed.path(ring, true, reader, 0)?;
                self.name_corners(id, ring, &path);
                self.keep_levelled(feature, reader.owner, &path);
                let outer = self.ring(id, path.points, ring.span)?;
                let mut cut = Vec::new();
                let mut first = u32::try_from(ring.vertices.len()).unwrap_or(u32::MAX);
                for hole in holes {
                    let path = self.placed.path(hole, true, reader, first)?;
                    first = first.saturating_add(u32::try_from(hole.vertices.len()).unwrap_or(u32::MAX));
                    let inner = self.ring(id, path.points, hole.span)?;
                    cut.push(self.hole(id, &outer.points, inner.points, hole.span)?);
                }
                Some(Shape::Outline { ring: outer.points, holes: cut })
            }
            Geometry::Box { anchor, width, depth, sizes_by, span } => {
                let sizes = sizes_by.as_ref().map(|by| Class::of_thing(self.plan, Some(by), false));
                let (width, depth) = (width.value, depth.value);
                let written = boxes::Written { anchor, width, depth, sizes, span: *span };
                let corners = boxes::corners(&mut self.placed, &written, reader)?;
                for (name, corner) in CORNERS.iter().zip(&corners) {
                    self.placed.named.insert(format!("{}.{name}", id.0), corner.clone());
                }
                let path = ResolvedPath { points: corners.into(), vertex_at: vec![0, 1, 2, 3] };
                self.keep_levelled(feature, reader.owner, &path);
                let ring = self.ring(id, path.points, *span)?;
                Some(Shape::Outline { ring: ring.points, holes: Vec::new() })
            }
            Geometry::Line { path: written, width } => {
                let path = self.placed.path(written, false, reader, 0)?;
                self.name_corners(id, written, &path);
                self.keep_levelled(feature, reader.owner, &path);
                let mut points = path.points;
                points.dedup_by(|a, b| a.at == b.at);
                let width = width.as_ref().map_or(Length::ZERO, |width| width.value);
                (points.len() > 1).then_some(Shape::Line { path: points, width })
            }
            Geometry::Spot(place) => {
                let point = self.placed.place(place, reader, Reading::Corner(0))?;
                self.placed.named.insert(id.0.clone(), point.clone());
                Some(Shape::Spot(point))
            }
            Geometry::Circle { centre, radius } => {
                let centre = self.placed.place(centre, reader, Reading::Corner(0))?;
                self.placed.named.insert(id.0.clone(), centre.clone());
                self.placed.named.insert(format!("{}.centre", id.0), centre.clone());
                Some(Shape::Disc { centre, radius: radius.value })
            }
        }
    }

    /// Keeps the vertices of a line or an outline as drawn, where levels are stated along it.
    fn keep_levelled(&mut self, feature: &Feature, owner: Owner, path: &ResolvedPath) {
        if let Owner::Feature(i) = owner
            && ground::stated::is_levelled(feature)
        {
            self.placed.levelled.insert(i, path.clone());
        }
    }

    fn name_corners(&mut self, owner: &Name, path: &Path, resolved: &ResolvedPath) {
        for (vertex, &at) in path.vertices.iter().zip(&resolved.vertex_at) {
            if let Some(corner) = &vertex.corner {
                self.placed.named.insert(format!("{}.{}", owner.0, corner.0), resolved.points[at].clone());
            }
        }
    }

    /// A ring made fit to measure: closed once, anticlockwise. None, with a remark, when it is no outline.
    fn ring(&mut self, owner: &Name, mut points: Vec<Point>, span: Span) -> Option<Ring> {
        points.dedup_by(|a, b| a.at == b.at);
        while points.len() > 1 && points.first().map(|p| p.at) == points.last().map(|p| p.at) {
            points.pop();
        }
        let flat: Vec<Xy> = points.iter().map(xy).collect();
        if let Some(fault) = ring_fault(&flat) {
            self.remark_ring(owner, fault, span);
            return None;
        }
        let turned = twice_area(&flat) < 0.0;
        if turned {
            points.reverse();
        }
        Some(Ring { points, turned })
    }

    /// A hole, clockwise. None, with a remark, when part of it lies outside the outline.
    fn hole(
        &mut self,
        owner: &Name,
        outer: &[Point],
        mut hole: Vec<Point>,
        span: Span,
    ) -> Option<Vec<Point>> {
        let ring: Vec<Xy> = outer.iter().map(xy).collect();
        if let Some(outside) = hole.iter().find(|point| !holds(&ring, xy(point))) {
            let at = outside.at;
            self.remark(Remark {
                code: "data::hole-outside",
                gravity: Gravity::Wrong,
                message: format!(
                    "A hole of {} reaches outside its outline, at {}.",
                    owner.0,
                    self.written(at)
                ),
                about: vec![owner.clone()],
                spots: vec![(at.x, at.y)],
                span,
                help: Some(
                    "Move the hole inside; until then this feature is left out of every measurement."
                        .to_owned(),
                ),
            });
            return None;
        }
        hole.reverse();
        Some(hole)
    }

    fn remark_ring(&mut self, owner: &Name, fault: RingFault, span: Span) {
        let ((x, y), code, what, help) = match fault {
            RingFault::Crossing(at) => {
                (at, "data::crossing-outline", "crosses or touches itself", "Check the order of its corners")
            }
            RingFault::Spike(at) => (
                at,
                "data::spike-in-outline",
                "runs out and back over itself",
                "Take out the corner at the tip",
            ),
            RingFault::Flat(at) => (
                at,
                "data::flat-outline",
                "has no area; its corners lie on one line or are fewer than three",
                "Give at least three corners that enclose something",
            ),
        };
        let at = Position { x: Length::from_metres(x), y: Length::from_metres(y) };
        self.remark(Remark {
            code,
            gravity: Gravity::Wrong,
            message: format!("The outline of {} {what}, at {}.", owner.0, self.written(at)),
            about: vec![owner.clone()],
            spots: vec![(at.x, at.y)],
            span,
            help: Some(format!("{help}; until then it is left out of every measurement.")),
        });
    }

    fn remark(&mut self, remark: Remark) {
        self.remarks.push(remark);
    }

    /// A position in the sheet's own unit, as the plan would write it.
    fn written(&self, at: Position) -> String {
        let (x, y) = (at.x + self.placed.shift.x, at.y + self.placed.shift.y);
        let (one, unit) = match self.plan.site.units {
            SheetUnit::Feet => (Length::from_feet(1.0), "ft"),
            SheetUnit::Inches => (Length::from_inches(1.0), "in"),
            SheetUnit::Metres => (Length::from_metres(1.0), "m"),
            SheetUnit::Millimetres => (Length::from_millimetres(1.0), "mm"),
        };
        format!("({:.2}, {:.2}) {unit}", (x / one).fraction(), (y / one).fraction())
    }
}

struct Ring {
    points: Vec<Point>,
    /// True when it was written clockwise.
    turned: bool,
}

/// The sides of a lot, each with its points from end to end.
fn sides(lot: &Lot, path: &ResolvedPath) -> Vec<ResolvedSide> {
    let n = path.points.len();
    let at = |vertex: usize| path.vertex_at.get(vertex).copied().unwrap_or(0);
    lot.sides
        .iter()
        .map(|side| {
            let (from, until) = (at(side.from), at(side.until));
            let steps = if until > from { until - from } else { until + n - from };
            ResolvedSide {
                name: side.name.clone(),
                path: (from..=from + steps).map(|i| path.points[i % n].clone()).collect(),
                role: side.role.as_ref().map(|role| role.value),
                assumed: side.assumed,
                street: side.street.clone(),
                street_width: side.street_width.as_ref().map(|width| width.value),
                inside: false,
                span: side.span,
            }
        })
        .collect()
}

/// What to take off every coordinate: nothing near the origin, whole metres near the first one far out.
fn shift(plan: &Plan) -> Position {
    let corners = plan.lots.iter().flat_map(|lot| lot.ring.vertices.iter().map(|vertex| &vertex.place));
    let spots = plan.points.iter().map(|point| &point.place);
    let first = corners.chain(spots).find_map(|place| match place {
        Place::At { x, y, .. } if x.value.is_finite() && y.value.is_finite() => Some((x.value, y.value)),
        _ => None,
    });
    match first {
        Some((x, y)) if x.metres().abs() > FAR || y.metres().abs() > FAR => Position {
            x: Length::from_metres(x.metres().round()),
            y: Length::from_metres(y.metres().round()),
        },
        _ => Position::default(),
    }
}
