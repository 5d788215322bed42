//! Places constructed from what is drawn: strips along lot lines, the ground around things, sight areas.
//!
//! A construction is first a [`Draft`], which costs little and whose size is known, and becomes a region of
//! the site when it is cut to shape. Every vertex of a region is a point made from the points it rests on, and
//! errs with them to first order; so whatever is measured to a region has the right spread.

mod around;
mod corner;
mod cut;
mod drive;
pub(crate) mod points;
mod solid;
mod strip;

use groundrule_plan::{Name, Span};
use groundrule_survey::{ErrorTerms, Point, Shape};
use groundrule_units::Length;

use crate::shape::piece::pieces;
use crate::{Facts, Feature, FeatureId, Site};
use solid::Solid;

/// The kind of a region. No plan has a feature of this kind.
const REGION: &str = "region";
/// The longest depth, reach or leg of a region, in metres.
const LONGEST: f64 = 100_000.0;

/// A region as constructed: what it is the union of, and what it is cut by.
#[derive(Clone, Debug)]
pub struct Draft {
    solids: Vec<Solid>,
    within: Option<Solid>,
    name: Name,
    title: String,
    lot: Option<FeatureId>,
    span: Span,
}

/// A place of one run, made from what the plan shows.
#[derive(Clone, Debug)]
pub(crate) struct Region {
    /// Its words, and the largest of its parts.
    pub(crate) feature: Feature,
    /// Its other parts, where the lot cuts it in several.
    pub(crate) rest: Vec<Shape>,
}

impl Draft {
    /// The number of vertices that cutting it to shape works on.
    pub fn vertices(&self) -> usize {
        self.solids.iter().chain(&self.within).map(Solid::len).sum()
    }
}

impl Site {
    /// Makes a region of a draft, a feature of this site and its later clones; none where nothing is left of it.
    pub fn region(&mut self, draft: &Draft) -> Option<FeatureId> {
        let mut parts = cut::cut(&draft.solids, draft.within.as_ref()).into_iter();
        let feature = Feature {
            id: draft.name.clone(),
            title: draft.title.clone(),
            kind: REGION.to_owned(),
            status: None,
            lot: draft.lot,
            shape: parts.next()?,
            facts: Facts::new(),
            span: draft.span,
        };
        Some(self.push_region(Region { feature, rest: parts.collect() }))
    }

    /// Makes a feature of shapes that were constructed elsewhere, for this site and its later clones.
    pub(crate) fn draw(
        &mut self,
        id: Name,
        title: String,
        shapes: Vec<Shape>,
        lot: Option<FeatureId>,
        span: Span,
    ) -> FeatureId {
        let mut shapes = shapes.into_iter();
        let shape = shapes.next().unwrap_or(Shape::Absent);
        let (kind, facts) = (REGION.to_owned(), Facts::new());
        let feature = Feature { id, title, kind, status: None, lot, shape, facts, span };
        self.push_region(Region { feature, rest: shapes.collect() })
    }

    /// The number of vertices of everything drawn of a feature or region.
    pub fn vertices(&self, feature: FeatureId) -> usize {
        self.shapes(feature)
            .map(|shape| match shape {
                Shape::Outline { ring, holes } => ring.len() + holes.iter().map(Vec::len).sum::<usize>(),
                Shape::Line { path, .. } => path.len(),
                Shape::Spot(_) | Shape::Disc { .. } | Shape::Absent => 1,
            })
            .sum()
    }

    /// The number of error terms that the points of a feature or region hold.
    pub fn error_terms(&self, feature: FeatureId) -> usize {
        let held = |point: &Point| match &point.error {
            ErrorTerms::Exact => 0,
            ErrorTerms::Own { .. } => 2,
            ErrorTerms::Sum(terms) => terms.len(),
            // Kept by the adjustment, not by the point.
            ErrorTerms::Surveyed(_) => 1,
        };
        let pieces = self.shapes(feature).flat_map(pieces);
        pieces.map(|piece| piece.points().map(held).sum::<usize>()).sum()
    }

    /// The neighbouring lines of a lot, in ring order; none for what is not a lot.
    pub fn lot_corners(&self, lot: FeatureId) -> Vec<(FeatureId, FeatureId)> {
        let lines: Vec<FeatureId> = self.lines_of(lot).collect();
        if lines.len() < 2 {
            return Vec::new();
        }
        lines.iter().copied().zip(lines.iter().copied().cycle().skip(1)).collect()
    }

    /// A lot line with its path, and its lot with its ring; none for what is no drawn line of a drawn lot.
    fn lot_line(&self, line: FeatureId) -> Option<LotLine<'_>> {
        let feature = self.feature(line)?;
        let lot = feature.lot.filter(|_| feature.kind == crate::build::LOT_LINE)?;
        match (&feature.shape, &self.feature(lot)?.shape) {
            (Shape::Line { path, .. }, Shape::Outline { ring, .. }) if path.len() > 1 => {
                Some(LotLine { feature, path, lot, ring })
            }
            _ => None,
        }
    }
}

/// A drawn line of a drawn lot. The lot is on the left of the path.
struct LotLine<'a> {
    feature: &'a Feature,
    path: &'a [Point],
    lot: FeatureId,
    ring: &'a [Point],
}

impl LotLine<'_> {
    fn lot_solid(&self) -> Solid {
        Solid::area(self.ring, &[])
    }
}

/// A length that a region can be made with: more than nothing, and not so long that its vertices leave the range of
/// numbers; in metres.
fn usable(length: Length) -> Option<f64> {
    Some(length.metres()).filter(|metres| *metres > 0.0 && *metres <= LONGEST)
}

/// The longest edge of a path. Where others are at least half as long, the one of them nearest to `end` of the path:
/// its last if true, else its first. So the chords of a rounded corner do not stand for a straight line, and a
/// street that bends all along counts by its stretch at the corner.
fn main_edge(path: &[Point], end: bool) -> Option<(&Point, &Point)> {
    use crate::shape::segments::{norm, place};
    let length = |(a, b): &(&Point, &Point)| norm(place(b) - place(a));
    let edges: Vec<(&Point, &Point)> = path.iter().zip(path.iter().skip(1)).collect();
    let longest = edges.iter().map(length).fold(0.0, f64::max);
    let mut long = edges.into_iter().filter(|edge| longest > 0.0 && length(edge) >= longest / 2.0);
    if end { long.next_back() } else { long.next() }
}
