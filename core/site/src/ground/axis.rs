//! The line along which one goes, or water runs: the path of a line, or the middle of an outline.
//!
//! The middle of an outline runs through its centroid along the direction of its longest edge, from where that line
//! enters the outline to where it leaves it.

use geo::Coord;
use groundrule_survey::{Point, Shape};

use crate::region::points;
use crate::shape::rings::edges;
use crate::shape::segments::{cross, meeting, norm, place, position, unit};
use crate::{FeatureId, Site};

impl Site {
    /// The way along a feature; empty for what has none.
    pub(crate) fn axis(&self, feature: FeatureId) -> Vec<Point> {
        match self.feature(feature).map(|feature| &feature.shape) {
            Some(Shape::Line { path, .. }) => path.clone(),
            Some(Shape::Outline { ring, .. }) => middle(ring),
            _ => Vec::new(),
        }
    }
}

fn middle(ring: &[Point]) -> Vec<Point> {
    let length = |(a, b): &(&Point, &Point)| norm(place(b) - place(a));
    let Some((a, b)) = edges(ring).max_by(|x, y| length(x).total_cmp(&length(y))) else { return Vec::new() };
    let (Some(along), Some(centre)) = (unit(place(b) - place(a)), centroid(ring)) else { return Vec::new() };
    let mut found: Vec<(f64, Point)> = edges(ring)
        .filter_map(|(a, b)| {
            let (station, share) = meeting(centre, centre + along, place(a), place(b))?;
            if !(0.0..=1.0).contains(&share) {
                return None;
            }
            let on_edge = points::between((a, b), share);
            Some((station, Point { at: position(centre + along * station), ..on_edge }))
        })
        .collect();
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    match (found.first(), found.last()) {
        (Some(first), Some(last)) if first.0 < last.0 => vec![first.1.clone(), last.1.clone()],
        _ => Vec::new(),
    }
}

fn centroid(ring: &[Point]) -> Option<Coord<f64>> {
    let origin = place(ring.first()?);
    let (mut area, mut sum) = (0.0, Coord { x: 0.0, y: 0.0 });
    for (a, b) in edges(ring) {
        let (a, b) = (place(a) - origin, place(b) - origin);
        let twice = cross(a, b);
        area += twice;
        sum = sum + (a + b) * twice;
    }
    (area != 0.0).then(|| origin + sum / (3.0 * area))
}

/// The part of a path between two stations, in metres; a `to` of zero or less is its end.
pub(crate) fn between(path: &[Point], from: f64, to: f64) -> Vec<Point> {
    let total: f64 = path.iter().zip(path.iter().skip(1)).map(|(a, b)| norm(place(b) - place(a))).sum();
    let (from, to) = (from.max(0.0), if to > 0.0 { to.min(total) } else { total });
    if from <= 0.0 && to >= total {
        return path.to_vec();
    }
    let (mut cut, mut station) = (Vec::new(), 0.0);
    for (a, b) in path.iter().zip(path.iter().skip(1)) {
        let length = norm(place(b) - place(a));
        let share = |s: f64| ((s - station) / length).clamp(0.0, 1.0);
        if length > 0.0 && station < to && station + length > from {
            let (low, high) = (share(from), share(to));
            if cut.is_empty() {
                cut.push(on(a, b, low));
            }
            cut.push(on(a, b, high));
        }
        station += length;
    }
    cut
}

/// The point at a share of a segment, moving with both ends.
pub(crate) fn on(a: &Point, b: &Point, share: f64) -> Point {
    if share <= 0.0 {
        return a.clone();
    }
    if share >= 1.0 {
        return b.clone();
    }
    points::between((a, b), share)
}
