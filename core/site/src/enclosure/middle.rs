//! A place inside a feature, the ray from it, and what stands in the feature.

use geo::Coord;
use groundrule_survey::Point;

use crate::shape::piece::{Bounds, Piece};
use crate::shape::rings::Lies;
use crate::shape::segments::{distance, norm, place, side, touch};

/// The feature that is to be inside, and a place in it from which a ray runs to the right.
pub(super) struct Middle<'p> {
    at: Coord<f64>,
    pieces: &'p [Piece<'p>],
    bounds: Bounds,
}

impl<'p> Middle<'p> {
    pub(super) fn of(pieces: &'p [Piece<'p>]) -> Option<Self> {
        let at = pieces.iter().find_map(inside)?;
        let bounds = pieces.iter().map(Piece::bounds).fold(Bounds::EMPTY, Bounds::joined);
        (at.x.is_finite() && at.y.is_finite()).then_some(Self { at, pieces, bounds })
    }

    /// True when a straight way passes the ray. Ways that join end to end are counted as one: a place on the ray's own
    /// height counts as below it.
    pub(super) fn passes(&self, from: Coord<f64>, to: Coord<f64>) -> bool {
        if (from.y > self.at.y) == (to.y > self.at.y) {
            return false;
        }
        let (low, high) = if from.y < to.y { (from, to) } else { (to, from) };
        side(low, high, self.at) > 0.0
    }

    /// True for a place in the feature, not on its edge.
    pub(super) fn holds(&self, p: Coord<f64>) -> bool {
        self.pieces.iter().any(|piece| match piece {
            Piece::Disc { centre, radius } => norm(p - place(centre)) < *radius,
            Piece::Area { .. } => piece.lies(p) == Lies::Inside,
            Piece::Path(_) => false,
        })
    }

    /// True for a straight way that leads through the feature, and does not only touch its edge.
    pub(super) fn bars(&self, from: Coord<f64>, to: Coord<f64>) -> bool {
        let way = Bounds::EMPTY.around(from, 0.0).around(to, 0.0);
        if way.apart(&self.bounds) > 0.0 {
            return false;
        }
        let apart = |p: f64, q: f64| (p > 0.0 && q < 0.0) || (p < 0.0 && q > 0.0);
        let through = |(a, b): (&Point, &Point)| {
            let (a, b) = (place(a), place(b));
            apart(side(from, to, a), side(from, to, b)) && apart(side(a, b, from), side(a, b, to))
        };
        self.holds((from + to) / 2.0)
            || self.pieces.iter().any(|piece| match piece {
                Piece::Disc { centre, radius } => distance(place(centre), from, to) < *radius,
                Piece::Area { .. } | Piece::Path(_) => piece.edges().any(through),
            })
    }

    /// True when a circle holds the whole feature: a round fence around it.
    pub(super) fn is_in_disc(&self, piece: &Piece<'_>) -> bool {
        let Piece::Disc { centre, radius } = piece else { return false };
        let within =
            |of: &Piece<'_>| of.points().all(|p| norm(place(p) - place(centre)) + of.radius() < *radius);
        *radius > 0.0 && self.pieces.iter().all(within)
    }

    /// How far the feature reaches along a direction from a place, the least first; none when it has no points.
    pub(super) fn extent(&self, from: Coord<f64>, way: Coord<f64>) -> Option<(f64, f64)> {
        let along = |p: &Point| crate::shape::segments::dot(place(p) - from, way);
        let reach = |piece: &Piece<'_>| {
            let each = piece.points().map(along);
            each.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), t| {
                (low.min(t - piece.radius()), high.max(t + piece.radius()))
            })
        };
        let (low, high) = self
            .pieces
            .iter()
            .map(reach)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |all, one| (all.0.min(one.0), all.1.max(one.1)));
        (low.is_finite() && high.is_finite()).then_some((low, high))
    }

    /// The stations along an edge at which it enters or leaves the feature.
    pub(super) fn entries(&self, a: Coord<f64>, b: Coord<f64>) -> Vec<f64> {
        let edges = self.pieces.iter().flat_map(Piece::edges).map(|(p, q)| (place(p), place(q)));
        let met = edges.filter(|(p, q)| touch(a, b, *p, *q));
        let met = met.filter_map(|(p, q)| crate::shape::segments::meeting(a, b, p, q)).map(|(t, _)| t);
        let circles = self.pieces.iter().filter_map(|piece| match piece {
            Piece::Disc { centre, radius } => {
                Some(crate::shape::inside::circle_stations(a, b, place(centre), *radius))
            }
            Piece::Area { .. } | Piece::Path(_) => None,
        });
        met.chain(circles.flatten().flatten()).collect()
    }
}

/// A place well inside of a piece: in the widest stretch at the height that is farthest from any corner.
fn inside(piece: &Piece<'_>) -> Option<Coord<f64>> {
    match piece {
        Piece::Disc { centre, .. } => Some(place(centre)),
        Piece::Path(path) => {
            let (a, b) = (path.first()?, path.get(1)?);
            Some((place(a) + place(b)) / 2.0)
        }
        Piece::Area { .. } => {
            let mut heights: Vec<f64> = piece.points().map(|p| place(p).y).collect();
            heights.sort_by(f64::total_cmp);
            let (low, high) = heights
                .iter()
                .zip(heights.iter().skip(1))
                .max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
            let y = f64::midpoint(*low, *high);
            let mut across: Vec<f64> = piece
                .edges()
                .map(|(a, b)| (place(a), place(b)))
                .filter(|(a, b)| (a.y > y) != (b.y > y))
                .map(|(a, b)| a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y))
                .collect();
            across.sort_by(f64::total_cmp);
            let stretches = across.chunks_exact(2);
            let widest = stretches.max_by(|a, b| (a[1] - a[0]).total_cmp(&(b[1] - b[0])))?;
            Some(Coord { x: f64::midpoint(widest[0], widest[1]), y })
        }
    }
}
