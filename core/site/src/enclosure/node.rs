//! The edges of pieces, cut where they meet the feature or run past it.

use geo::Coord;
use groundrule_survey::Point;

use super::middle::Middle;
use crate::FeatureId;
use crate::shape::piece::Piece;
use crate::shape::segments::{at, norm, place};

/// A stretch of one edge of a piece, or the middle of a disc.
#[derive(Clone, Debug)]
pub(super) struct Node<'a> {
    /// The feature it belongs to, and which of all pieces.
    pub(super) feature: FeatureId,
    pub(super) piece: &'a Piece<'a>,
    pub(super) of: usize,
    /// The edge, and the stations where the stretch starts and ends.
    pub(super) edge: (&'a Point, &'a Point),
    pub(super) from: f64,
    pub(super) to: f64,
    /// Which nodes of the piece it hangs together with: its own number along the piece, and that of the next.
    pub(super) ends: (usize, usize),
    /// The ends of the line it is part of, where that does not close on itself.
    pub(super) free: Option<(&'a Point, &'a Point)>,
    pub(super) radius: f64,
}

impl Node<'_> {
    pub(super) fn place(&self, station: f64) -> Coord<f64> {
        at(place(self.edge.0), place(self.edge.1), station)
    }

    pub(super) fn ends(&self) -> (Coord<f64>, Coord<f64>) {
        (self.place(self.from), self.place(self.to))
    }

    /// The station where it is joined to another node of its piece; none when it is not.
    pub(super) fn joint(&self, other: &Self) -> Option<(f64, f64)> {
        if self.of != other.of {
            return None;
        }
        let (a, b) = (self.ends, other.ends);
        [(a.0, b.1, self.from, other.to), (a.1, b.0, self.to, other.from), (a.0, b.0, self.from, other.from)]
            .into_iter()
            .chain([(a.1, b.1, self.to, other.to)])
            .find(|(own, its, ..)| own == its)
            .map(|(_, _, own, its)| (own, its))
    }
}

/// The stretches of a piece outside of the feature.
pub(super) fn nodes<'a>(
    (of, feature): (usize, FeatureId),
    piece: &'a Piece<'a>,
    middle: &Middle<'_>,
) -> Vec<Node<'a>> {
    if let Piece::Disc { centre, radius } = piece {
        let node = Node {
            feature,
            piece,
            of,
            edge: (centre, centre),
            from: 0.0,
            to: 0.0,
            ends: (0, 1),
            free: None,
            radius: *radius,
        };
        return if middle.holds(place(centre)) { Vec::new() } else { vec![node] };
    }
    let free = match piece {
        Piece::Path(path) => path.first().zip(path.last()).filter(|(a, b)| a.at != b.at),
        Piece::Area { .. } | Piece::Disc { .. } => None,
    };
    let mut found = Vec::new();
    // Joints are numbered along each ring or line; the last of a closed one is its first again.
    let mut next = 0;
    let runs: Vec<Vec<(&Point, &Point)>> = match piece {
        Piece::Path(path) => vec![path.iter().zip(path.iter().skip(1)).collect()],
        Piece::Area { .. } | Piece::Disc { .. } => {
            piece.rings().map(|ring| crate::shape::rings::edges(ring).collect()).collect()
        }
    };
    for run in runs {
        let first = next;
        let closes = free.is_none();
        let mut cut: Vec<((&Point, &Point), f64, f64)> = Vec::new();
        for edge in run {
            cut.extend(stations(edge, middle).windows(2).map(|pair| (edge, pair[0], pair[1])));
        }
        let count = cut.len();
        for (i, (edge, from, to)) in cut.into_iter().enumerate() {
            let last = closes && i + 1 == count;
            let ends = (next, if last { first } else { next + 1 });
            let node = Node { feature, piece, of, edge, from, to, ends, free, radius: 0.0 };
            if !middle.holds(node.place(f64::midpoint(from, to))) {
                found.push(node);
            }
            next += 1;
        }
        next += 1;
    }
    found
}

/// Where an edge is cut: at its ends, where it enters or leaves the feature, and where it runs past the feature's
/// first and last corner, so that ways across on either side of the feature are different ways.
fn stations((a, b): (&Point, &Point), middle: &Middle<'_>) -> Vec<f64> {
    let (a, b) = (place(a), place(b));
    let length = norm(b - a);
    let mut stations = vec![0.0, 1.0];
    stations.extend(middle.entries(a, b));
    if length > 0.0
        && let Some((low, high)) = middle.extent(a, (b - a) / length)
    {
        stations.extend([low / length, high / length]);
    }
    stations.retain(|t| (0.0..=1.0).contains(t));
    stations.sort_by(f64::total_cmp);
    stations.dedup();
    stations
}
