//! Places as written to points.

use std::collections::BTreeMap;

use groundrule_plan::{Curve, Fault, Path, Place, Plan, PointRef, Span, WallRef};
use groundrule_units::Length;

use crate::curves::{Xy, arc_of_radius, arc_through};
use crate::error::{Moved, scaled};
use crate::field::Field;
use crate::field::accuracy::Class;
use crate::layout::{Dispute, Owner, Point, PointHeight, Position, Reading, ResolvedLot, Shape};
use crate::sources::Sources;
use crate::{Adjustment, ErrorTerm, ErrorTerms, SourceId};

/// Everything placed so far.
pub(crate) struct Placed<'a> {
    field: &'a Field<'a>,
    /// The lots of the plan that are placed.
    pub(crate) lots: Vec<Option<ResolvedLot>>,
    /// The shapes of its features.
    pub(crate) shapes: Vec<Shape>,
    /// The vertices as drawn of features with levels along them, by the index of the feature.
    pub(crate) levelled: BTreeMap<u32, ResolvedPath>,
    /// Points and corners by full name.
    pub(crate) named: BTreeMap<String, Point>,
    /// Sources of error handed out.
    pub(crate) sources: Sources,
    /// What could not be placed.
    pub(crate) faults: Vec<Fault>,
    /// What is taken off every coordinate as written.
    pub(crate) shift: Position,
    /// Heights of points.
    pub(crate) heights: BTreeMap<String, PointHeight>,
    /// Measurements that contradict themselves or others.
    pub(crate) disputed: BTreeMap<u32, Dispute>,
    /// Right angles taken for granted.
    pub(crate) assumptions: Vec<String>,
    /// What the adjustments made so far say of their readings.
    pub(crate) adjustments: Vec<Adjustment>,
}

/// Whose place is being worked out, and how well it is read.
#[derive(Clone, Copy)]
pub(crate) struct Reader<'a> {
    pub(crate) owner: Owner,
    pub(crate) class: Class<'a>,
}

/// A path resolved: its points, and for each vertex as written the index of its point.
#[derive(Clone, Debug)]
pub(crate) struct ResolvedPath {
    pub(crate) points: Vec<Point>,
    pub(crate) vertex_at: Vec<usize>,
}

/// A wall's first point, and its direction.
pub(crate) struct Wall {
    from: Point,
    to: Point,
    unit: Xy,
    length: f64,
}

impl<'a> Placed<'a> {
    /// Nothing of a plan yet.
    pub(crate) fn new(plan: &Plan, field: &'a Field<'a>, shift: Position) -> Self {
        Self {
            field,
            lots: vec![None; plan.lots.len()],
            shapes: vec![Shape::Absent; plan.features.len()],
            levelled: BTreeMap::new(),
            named: BTreeMap::new(),
            sources: Sources::default(),
            faults: Vec::new(),
            shift,
            heights: BTreeMap::new(),
            disputed: BTreeMap::new(),
            assumptions: Vec::new(),
            adjustments: Vec::new(),
        }
    }

    /// Moves everything placed so far as its sources of error have moved: each source has a new most likely value
    /// and hangs on other sources now.
    pub(crate) fn move_sources(&mut self, moved: &BTreeMap<SourceId, Moved>) {
        let lots =
            self.lots.iter_mut().flatten().flat_map(|lot| {
                lot.ring.iter_mut().chain(lot.sides.iter_mut().flat_map(|side| &mut side.path))
            });
        let shapes = self.shapes.iter_mut().flat_map(Shape::points_mut);
        let levelled = self.levelled.values_mut().flat_map(|path| &mut path.points);
        for point in self.named.values_mut().chain(lots).chain(shapes).chain(levelled) {
            let (at, error) = point.error.moved_with(moved);
            point.at = Position { x: point.at.x + at.x, y: point.at.y + at.y };
            if let Some(error) = error {
                point.error = error;
            }
        }
    }

    /// The point at a place. None, with a fault, when something it names is not there.
    pub(crate) fn place(&mut self, place: &Place, reader: Reader<'_>, reading: Reading) -> Option<Point> {
        match place {
            // Measurements put it; the survey has done so before anything asks.
            Place::Near { .. } => None,
            Place::At { x, y, .. } => {
                let at = Position { x: x.value - self.shift.x, y: y.value - self.shift.y };
                Some(Point {
                    at,
                    error: self.sources.position(reader.owner, reading, reader.class.position()),
                })
            }
            Place::Point(point) => self.find(point),
            Place::From { base, right, up, .. } => {
                let base = self.find(base)?;
                let at = Position { x: base.at.x + right.value, y: base.at.y + up.value };
                let own = self.setting_out(reader, &[(right.value, (1.0, 0.0)), (up.value, (0.0, 1.0))]);
                Some(Point { at, error: base.error.with(own) })
            }
            Place::Along { wall, station, offset, span } => {
                let wall = self.wall(wall, *span)?;
                let own =
                    self.setting_out(reader, &[(station.value, wall.unit()), (offset.value, wall.left())]);
                let point = wall.point(station.value, offset.value);
                Some(Point { at: point.at, error: point.error.with(own) })
            }
        }
    }

    /// The errors of measured distances that set a point out, each in its own direction.
    ///
    /// A distance of zero is no measurement: what is said to be on a wall is on it.
    pub(crate) fn setting_out(&mut self, reader: Reader<'_>, measured: &[(Length, Xy)]) -> Vec<ErrorTerm> {
        let measured = measured.iter().filter(|(length, _)| *length != Length::ZERO);
        let taped: Vec<(Length, Xy)> =
            measured.map(|(length, d)| (reader.class.length(*length), *d)).collect();
        self.sources.along(reader.owner, Reading::Offset, &taped)
    }

    /// The wall between two points.
    pub(crate) fn wall(&mut self, wall: &WallRef, span: Span) -> Option<Wall> {
        let (from, to) = (self.find(&wall.from)?, self.find(&wall.to)?);
        let (dx, dy) = ((to.at.x - from.at.x).metres(), (to.at.y - from.at.y).metres());
        let length = libm::hypot(dx, dy);
        if length == 0.0 {
            self.faults.push(Fault {
                code: "plan::wall-without-length",
                message: "This wall runs from a point to the same point, so it has no direction.".to_owned(),
                labels: vec![(span, "set out from here".to_owned())],
                help: Some("Name two corners that stand apart.".to_owned()),
            });
            return None;
        }
        Some(Wall { from, to, unit: (dx / length, dy / length), length })
    }

    /// A named point or corner.
    pub(crate) fn find(&mut self, point: &PointRef) -> Option<Point> {
        let full = point.full();
        // A corner may be asked for before its outline is placed, by the point it stands on.
        let other = self.field.rings.name(point);
        let found = self.named.get(&full).or_else(|| self.named.get(&other)).cloned();
        // What measurements do not locate has its finding already.
        if found.is_none() && !self.field.measured.contains(&other) {
            let prefix = point.owner.as_ref().map_or(String::new(), |owner| format!("{}.", owner.0));
            let known: Vec<&str> = self
                .named
                .keys()
                .filter_map(|name| name.strip_prefix(&prefix))
                .filter(|n| !n.contains('.'))
                .collect();
            let help = match point.owner {
                Some(_) if known.is_empty() => {
                    "Give its corners names with `names = [...]`, or use coordinates.".to_owned()
                }
                Some(_) => format!("It has {}.", known.join(", ")),
                None => "A feature is named by one of its corners: `house.ne`.".to_owned(),
            };
            self.faults.push(Fault {
                code: "plan::unknown-corner",
                message: format!("There is no point `{full}`."),
                labels: vec![(point.span, "named here".to_owned())],
                help: Some(help),
            });
        }
        found
    }

    /// A path with its curves turned into chords; `closed` curves run from the last vertex back to the first too.
    pub(crate) fn path(
        &mut self,
        path: &Path,
        closed: bool,
        reader: Reader<'_>,
        first: u32,
    ) -> Option<ResolvedPath> {
        let mut vertices = Vec::with_capacity(path.vertices.len());
        let mut whole = true;
        for (vertex, i) in path.vertices.iter().zip(first..) {
            match self.place(&vertex.place, reader, Reading::Corner(i)) {
                Some(point) => vertices.push(point),
                None => whole = false,
            }
        }
        if !whole {
            return None;
        }
        let mut resolved = ResolvedPath { points: Vec::new(), vertex_at: Vec::new() };
        for (i, (vertex, point)) in path.vertices.iter().zip(&vertices).enumerate() {
            resolved.vertex_at.push(resolved.points.len());
            resolved.points.push(point.clone());
            let next = if i + 1 < vertices.len() {
                vertices.get(i + 1)
            } else {
                vertices.first().filter(|_| closed)
            };
            if let (Some(curve), Some(next)) = (&vertex.curve, next) {
                let between = self.curve(curve, point, next, reader, path.span)?;
                resolved.points.extend(between);
            }
        }
        Some(resolved)
    }

    /// The points of an arc between its ends. They move with the ends, in proportion to their nearness.
    fn curve(
        &mut self,
        curve: &Curve,
        start: &Point,
        end: &Point,
        reader: Reader<'_>,
        path: Span,
    ) -> Option<Vec<Point>> {
        let (from, to) = (xy(start), xy(end));
        let (places, span) = match curve {
            Curve::Through(place) => {
                let middle = self.place(place, Reader { class: Class::EXACT, ..reader }, Reading::Offset)?;
                // Three places on a line are a straight curve, which is no mistake.
                (Some(arc_through(from, xy(&middle), to).unwrap_or_default()), path)
            }
            Curve::Radius { radius, left, span } => {
                (arc_of_radius(from, to, radius.value.metres(), *left), *span)
            }
        };
        let Some(places) = places else {
            let half = libm::hypot(to.0 - from.0, to.1 - from.1) / 2.0;
            self.faults.push(Fault {
                code: "plan::radius-too-short",
                message: format!(
                    "An arc of this radius cannot reach the next vertex; it takes at least {half:.3} m."
                ),
                labels: vec![(span, "this radius".to_owned())],
                help: Some(
                    "Check the radius, or give a place the arc runs through: `through = [x, y]`.".to_owned(),
                ),
            });
            return None;
        };
        let chord = (to.0 - from.0, to.1 - from.1);
        let square = (chord.0 * chord.0 + chord.1 * chord.1).max(f64::MIN_POSITIVE);
        let point = |(x, y): Xy| {
            let share = (((x - from.0) * chord.0 + (y - from.1) * chord.1) / square).clamp(0.0, 1.0);
            let parts = [(scaled(1.0 - share), &start.error), (scaled(share), &end.error)];
            Point { at: position((x, y)), error: ErrorTerms::moved_by(&parts) }
        };
        Some(places.into_iter().map(point).collect())
    }
}

impl Wall {
    /// The direction to the left of the wall.
    pub(crate) fn left(&self) -> Xy {
        (-self.unit.1, self.unit.0)
    }

    /// The direction of the wall.
    pub(crate) fn unit(&self) -> Xy {
        self.unit
    }

    /// The point so far along and so far to the left, moving as the wall's ends move.
    pub(crate) fn point(&self, station: Length, offset: Length) -> Point {
        let (s, o) = (station.metres(), offset.metres());
        let (ux, uy) = self.unit;
        let (nx, ny) = self.left();
        let at =
            position((self.from.at.x.metres() + ux * s + nx * o, self.from.at.y.metres() + uy * s + ny * o));
        // The far end turns the wall: a move across it swings the point by station along the left normal
        // and by offset against the direction.
        let (a, b) = ((nx * s - ux * o) / self.length, (ny * s - uy * o) / self.length);
        let turn = [[a * nx, a * ny], [b * nx, b * ny]];
        let stay = [[1.0 - turn[0][0], -turn[0][1]], [-turn[1][0], 1.0 - turn[1][1]]];
        Point { at, error: ErrorTerms::moved_by(&[(stay, &self.from.error), (turn, &self.to.error)]) }
    }
}

pub(crate) fn xy(point: &Point) -> Xy {
    (point.at.x.metres(), point.at.y.metres())
}

pub(crate) fn position((x, y): Xy) -> Position {
    Position { x: Length::from_metres(x), y: Length::from_metres(y) }
}
