//! Which lot line each side of a building faces.

use geo::Coord;
use groundrule_survey::Shape;

use crate::shape::rings::{Lies, edges, lies};
use crate::shape::segments::{meeting, place, right, unit};
use crate::{FeatureId, Site};

/// One side of a building and the lot line it faces.
#[derive(Clone, Debug, PartialEq)]
pub struct Facing {
    /// The index of the outline vertex the side starts at.
    pub side: usize,
    /// The line it faces; none when no line lies in front of it.
    pub line: Option<FeatureId>,
}

impl Site {
    /// The line each side of a feature's outline faces, of the lot it stands on.
    ///
    /// A side faces the line first met going straight out from its middle, whatever stands between, so a
    /// skew lot needs no care. A side that has itself passed the line faces the line it passed. A feature
    /// without an outline has no sides, and on no lot its sides face nothing.
    pub fn facing(&self, feature: FeatureId) -> Vec<Facing> {
        let Some(feature) = self.feature(feature) else { return Vec::new() };
        let Shape::Outline { ring, .. } = &feature.shape else { return Vec::new() };
        let lot = feature.lot.and_then(|lot| Some((lot, self.feature(lot)?)));
        let faced = |(a, b): (_, _)| {
            let (lot, shape) = lot.map(|(id, lot)| (id, &lot.shape))?;
            let (a, b) = (place(a), place(b));
            let middle = (a + b) / 2.0;
            let out = unit(right(b - a))?;
            let passed = || match shape {
                Shape::Outline { ring, .. } if lies(ring, middle) == Lies::Outside => {
                    self.first_line(lot, middle, out * -1.0)
                }
                _ => None,
            };
            self.first_line(lot, middle, out).or_else(passed)
        };
        edges(ring).enumerate().map(|(side, edge)| Facing { side, line: faced(edge) }).collect()
    }

    /// The first of a lot's lines met from a place in a direction; of two met at their corner, the earlier.
    fn first_line(&self, lot: FeatureId, from: Coord<f64>, way: Coord<f64>) -> Option<FeatureId> {
        let mut first: Option<(f64, FeatureId)> = None;
        for id in self.lines_of(lot) {
            let Some(Shape::Line { path, .. }) = self.feature(id).map(|line| &line.shape) else { continue };
            for (a, b) in path.iter().zip(path.iter().skip(1)) {
                let met = meeting(from, from + way, place(a), place(b));
                if let Some((ahead, _)) = met.filter(|(t, s)| *t >= 0.0 && (0.0..=1.0).contains(s))
                    && first.is_none_or(|(nearest, _)| ahead < nearest)
                {
                    first = Some((ahead, id));
                }
            }
        }
        first.map(|(_, id)| id)
    }
}
