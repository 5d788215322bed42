//! The strip of a lot along one of its lines.

use std::f64::consts::PI;

use geo::Coord;
use groundrule_plan::Name;
use groundrule_survey::Point;
use groundrule_units::Length;

use super::solid::along_path;
use super::{Draft, usable};
use crate::shape::rings::edges;
use crate::shape::segments::{distance, dot, place, right};
use crate::{FeatureId, Site};

/// How much farther than the lot reaches an end is rounded, in radians, so that no two edges fall together.
const ROOM: f64 = 0.01;
/// A lot that is no farther past the end of its line than this, in metres, ends with it.
const PAST: f64 = 1e-9;

impl Site {
    /// The part of a lot within a depth of one of its lines, by the distance to the line segment as for
    /// [`Site::yard`]. None for what is not a drawn line of a drawn lot, and for a depth that is not above nothing.
    pub fn strip(&self, line: FeatureId, depth: Length) -> Option<Draft> {
        let depth = usable(depth)?;
        let on = self.lot_line(line)?;
        Some(Draft {
            solids: along_path(on.path, depth, |at, out, starts| rounding(at, out, starts, (on.ring, depth))),
            within: Some(on.lot_solid()),
            name: Name(format!("strip along {}", on.feature.id.0)),
            title: format!("the ground along the {}", on.feature.title),
            lot: Some(on.lot),
            span: on.feature.span,
        })
    }
}

/// How far round the end of a line the lot reaches: the largest angle from the line's left at which the lot has an edge
/// within the depth. Nothing at a square corner; elsewhere most of a half circle would be cut off again.
///
/// The end is on the edge of the lot, so what there is of the lot within the half circle is bounded by edges in it.
fn rounding(end: &Point, out: Coord<f64>, starts: bool, (ring, depth): (&[Point], f64)) -> f64 {
    let origin = place(end);
    // The way out of the line at its start runs against it.
    let left = if starts { right(out) } else { right(out) * -1.0 };
    let mut most = f64::NEG_INFINITY;
    for (a, b) in edges(ring) {
        let (a, b) = (place(a) - origin, place(b) - origin);
        let (past_a, past_b) = (dot(a, out), dot(b, out));
        if past_a <= PAST && past_b <= PAST {
            continue;
        }
        // The part of the edge past the end.
        let cut = |from: Coord<f64>, to: Coord<f64>, past: f64, other: f64| {
            if past >= 0.0 { from } else { from + (to - from) * (past / (past - other)) }
        };
        let (a, b) = (cut(a, b, past_a, past_b), cut(b, a, past_b, past_a));
        if distance(Coord { x: 0.0, y: 0.0 }, a, b) > depth {
            continue;
        }
        for p in [a, b] {
            if p.x != 0.0 || p.y != 0.0 {
                most = most.max(libm::atan2(dot(p, out).max(0.0), dot(p, left)));
            }
        }
    }
    if most > 0.0 { (most + ROOM).min(PI) } else { 0.0 }
}
