//! The gap between two pieces: how wide, and which points decide it.

use geo::Coord;
use groundrule_survey::Point;

use super::piece::Piece;
use super::rings::Lies;
use super::segments::{at, cross, distance, norm, place, position, station, touch, unit};
use crate::Mark;
use crate::Terms;
use crate::terms::Gather;

/// One end of a gap: a vertex, or a place on the edge between two.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Foot<'a> {
    a: &'a Point,
    b: &'a Point,
    t: f64,
}

impl<'a> Foot<'a> {
    pub(crate) fn vertex(point: &'a Point) -> Self {
        Self { a: point, b: point, t: 0.0 }
    }

    pub(crate) fn edge(a: &'a Point, b: &'a Point, t: f64) -> Self {
        Self { a, b, t }
    }

    pub(crate) fn place(&self) -> Coord<f64> {
        at(place(self.a), place(self.b), self.t)
    }

    fn gather(&self, gather: &mut Gather, gradient: Coord<f64>) {
        gather.point(self.a, gradient * (1.0 - self.t));
        if self.t != 0.0 {
            gather.point(self.b, gradient * self.t);
        }
    }
}

/// A gap, signed: negative where the two ends would have to change places.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Gap<'a> {
    pub(crate) value: f64,
    /// The direction in which the far end must move to widen it.
    pub(crate) toward: Coord<f64>,
    pub(crate) from: Foot<'a>,
    pub(crate) to: Foot<'a>,
    /// The radii that round off each end.
    pub(crate) radii: (f64, f64),
}

impl<'a> Gap<'a> {
    /// The gap between two vertices that round discs, or plain ones.
    pub(crate) fn between(from: &'a Point, to: &'a Point, radii: (f64, f64)) -> Self {
        let apart = place(to) - place(from);
        Self {
            value: norm(apart) - radii.0 - radii.1,
            // Two centres in one place part in any direction; to the right is as good as another.
            toward: unit(apart).unwrap_or(Coord { x: 1.0, y: 0.0 }),
            from: Foot::vertex(from),
            to: Foot::vertex(to),
            radii,
        }
    }

    /// The gap from a vertex to the line through an edge, square to the edge.
    pub(crate) fn beside(from: &'a Point, (a, b): (&'a Point, &'a Point), t: f64, radii: (f64, f64)) -> Self {
        let (p, start, end) = (place(from), place(a), place(b));
        let along = end - start;
        let offset = cross(along, p - start) / norm(along);
        // Left of the edge the way to it is to the right, and the other way round.
        let outward = super::segments::right(along / norm(along)) * if offset < 0.0 { -1.0 } else { 1.0 };
        Self {
            value: offset.abs() - radii.0 - radii.1,
            toward: outward,
            from: Foot::vertex(from),
            to: Foot::edge(a, b, t),
            radii,
        }
    }

    /// True when it ends on its edge, and not on the line beyond the edge's ends.
    pub(crate) fn on_edge(&self) -> bool {
        (0.0..=1.0).contains(&self.from.t) && (0.0..=1.0).contains(&self.to.t)
    }

    /// The same gap seen from the other side.
    pub(crate) fn turned(self) -> Self {
        Self {
            toward: self.toward * -1.0,
            from: self.to,
            to: self.from,
            radii: (self.radii.1, self.radii.0),
            ..self
        }
    }

    /// How far each source of error widens it, through the points at its two ends only.
    pub(crate) fn terms(&self) -> Terms {
        let mut gather = Gather::default();
        self.to.gather(&mut gather, self.toward);
        self.from.gather(&mut gather, self.toward * -1.0);
        gather.finish()
    }

    pub(crate) fn mark(&self) -> Mark {
        let from = self.from.place() + self.toward * self.radii.0;
        let to = self.to.place() - self.toward * self.radii.1;
        Mark::Span(position(from), position(to))
    }
}

/// The distance of two pieces without their radii: zero where their edges touch or one holds the other.
/// `boxes` is how far apart their boxes are. Stops looking once it is at or below `enough`.
pub(crate) fn distance_of_cores(a: &Piece, b: &Piece, boxes: f64, enough: f64) -> f64 {
    if boxes <= 0.0 && (hold(a, b) || cross_edges(a, b)) {
        return 0.0;
    }
    let mut least = f64::INFINITY;
    for (one, other) in [(a, b), (b, a)] {
        for p in one.points() {
            for (start, end) in other.edges() {
                least = least.min(distance(place(p), place(start), place(end)));
            }
            if least <= enough {
                return least;
            }
        }
    }
    if let (Piece::Disc { centre: p, .. }, Piece::Disc { centre: q, .. }) = (a, b) {
        least = norm(place(q) - place(p));
    }
    least
}

fn cross_edges(a: &Piece, b: &Piece) -> bool {
    a.edges().any(|(p, q)| b.edges().any(|(r, s)| touch(place(p), place(q), place(r), place(s))))
}

/// True when one piece has a vertex in or on the other: together with crossing edges, all ways to meet.
fn hold(a: &Piece, b: &Piece) -> bool {
    let within = |p: Option<&Point>, area: &Piece| p.is_some_and(|p| area.lies(place(p)) != Lies::Outside);
    within(a.points().next(), b) || within(b.points().next(), a)
}

/// Every gap between two pieces that do not meet which is no more than `slack` wider than the narrowest.
///
/// A gap runs from a vertex square to an edge, or from vertex to vertex where each is nearest to the other.
pub(crate) fn gaps<'a>(a: &'a Piece<'_>, b: &'a Piece<'_>, slack: f64) -> Vec<Gap<'a>> {
    let radii = (a.radius(), b.radius());
    let mut found: Vec<Gap<'a>> = Vec::new();
    let mut bound = f64::INFINITY;
    let mut offer = |gap: Gap<'a>| {
        if gap.value <= bound {
            bound = bound.min(gap.value + slack);
            found.push(gap);
        }
    };
    for p in a.points() {
        for (start, end) in b.edges() {
            if let Some(t) = between_ends(p, start, end) {
                offer(Gap::beside(p, (start, end), t, radii));
            }
        }
    }
    for p in b.points() {
        for (start, end) in a.edges() {
            if let Some(t) = between_ends(p, start, end) {
                offer(Gap::beside(p, (start, end), t, (radii.1, radii.0)).turned());
            }
        }
    }
    for p in a.corners() {
        for q in b.corners().filter(|q| p.faces(place(q.at)) && q.faces(place(p.at))) {
            offer(Gap::between(p.at, q.at, radii));
        }
    }
    found.retain(|gap| gap.value <= bound);
    found.sort_by(|x, y| x.value.total_cmp(&y.value));
    found
}

fn between_ends(p: &Point, start: &Point, end: &Point) -> Option<f64> {
    station(place(p), place(start), place(end)).filter(|t| *t > 0.0 && *t < 1.0)
}
