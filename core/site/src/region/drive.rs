//! The sight areas beside a drive.

use geo::Coord;
use groundrule_plan::Name;
use groundrule_survey::Point;
use groundrule_units::Length;

use super::points::{Edge, meeting, set_off};
use super::solid::Solid;
use super::{Draft, usable};
use crate::shape::piece::{Piece, pieces};
use crate::shape::rings;
use crate::shape::segments::{cross, dot, place, right, station, unit};
use crate::{FeatureId, Site};

/// A drive that ends no farther short of the line than this reaches it: one foot, in metres.
const SHORT: f64 = 0.3048;
/// An end this close to the line, in metres, is on it.
const ON: f64 = 1e-6;
/// The sine of fifteen degrees: an edge closer to parallel with the line does not lead into the lot.
const ALONG: f64 = 0.258_819_045_102_520_7;

impl Site {
    /// The triangles beside a drive, an outline or a line with a width, where its edges meet a lot line: each
    /// outside of the drive, with a leg along the line and a leg along that edge into the lot, as far as it is
    /// on the lot.
    ///
    /// A drive that stops within a foot of the line reaches it. None at all for what is not a drawn line of a drawn
    /// lot, for a drive that is not drawn with a width, and for a leg that is not above nothing.
    pub fn drive_sight(
        &self,
        (drive, line): (FeatureId, FeatureId),
        leg_along: Length,
        leg_in: Length,
    ) -> Vec<Draft> {
        let (Some(along), Some(into)) = (usable(leg_along), usable(leg_in)) else { return Vec::new() };
        let (Some(of), Some(on)) = (self.feature(drive), self.lot_line(line)) else { return Vec::new() };
        let pieces: Vec<Piece<'_>> = self.shapes(drive).flat_map(pieces).collect();
        let triangles = pieces.iter().flat_map(Piece::rings).flat_map(|ring| {
            let crossings = crossings(ring, on.path);
            crossings
                .into_iter()
                .filter_map(move |crossing| crossing.triangle(along, into))
                .collect::<Vec<_>>()
        });
        triangles
            .map(|triangle| Draft {
                solids: vec![triangle],
                within: Some(on.lot_solid()),
                name: Name(format!("sight area of {} at {}", of.id.0, on.feature.id.0)),
                title: format!("the sight area beside {} at the {}", of.title, on.feature.title),
                lot: Some(on.lot),
                span: of.span,
            })
            .collect()
    }
}

/// An edge of a drive that meets an edge of a lot line.
struct Crossing<'a> {
    edge: Edge<'a>,
    line: Edge<'a>,
}

impl Crossing<'_> {
    fn triangle(&self, along: f64, into: f64) -> Option<Solid> {
        let root = meeting(self.edge, self.line)?;
        let (way, ahead) = (direction(self.edge)?, direction(self.line)?);
        // The lot lies on the left of its line, and the drive's inside on the left of its edge.
        let inward = if cross(ahead, way) > 0.0 { 1.0 } else { -1.0 };
        let away = if dot(ahead, right(way)) > 0.0 { 1.0 } else { -1.0 };
        let beside = set_off(&root, self.line, away * along, 0.0)?;
        let inside = set_off(&root, self.edge, inward * into, 0.0)?;
        Some(Solid::ring(vec![root, beside, inside]))
    }
}

fn direction((a, b): Edge<'_>) -> Option<Coord<f64>> {
    unit(place(b) - place(a))
}

/// Where the edges of a ring lead from a line into the lot, in ring order.
fn crossings<'a>(ring: &'a [Point], path: &'a [Point]) -> Vec<Crossing<'a>> {
    let edges: Vec<Edge<'a>> = rings::edges(ring).collect();
    let around = |i: usize, step: usize| edges.get((i + step) % edges.len().max(1)).copied();
    let mut found = Vec::new();
    for (i, edge) in edges.iter().enumerate() {
        for line in path.iter().zip(path.iter().skip(1)) {
            let (Some(way), Some(ahead)) = (direction(*edge), direction(line)) else { continue };
            let lead = cross(ahead, way);
            if lead.abs() < ALONG {
                continue;
            }
            // How far each end stands in from the line.
            let depth = |p: &Point| cross(ahead, place(p) - place(line.0));
            let (out, inside, beyond) = if lead > 0.0 {
                (edge.0, edge.1, around(i, edges.len().saturating_sub(1)))
            } else {
                (edge.1, edge.0, around(i, 1))
            };
            let ends_here = beyond.and_then(direction).is_some_and(|next| cross(ahead, next).abs() < ALONG);
            let reaches = depth(out) <= ON || (ends_here && depth(out) <= SHORT);
            let on_line = meeting(*edge, line)
                .and_then(|root| station(place(&root), place(line.0), place(line.1)))
                .is_some_and(|t| (-1e-9..=1.0 + 1e-9).contains(&t));
            if reaches && depth(inside) > ON && on_line {
                found.push(Crossing { edge: *edge, line });
            }
        }
    }
    found
}
