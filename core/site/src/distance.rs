//! Distance between any two features, and the signed forms that rules judge.
//!
//! The spread comes through the points at the two ends of the gap and no others; where other points could
//! as well be the nearest, see `spread.rs`. A line with a width has flat ends and round bends.

use std::borrow::Cow;

use groundrule_survey::{Point, Shape};
use groundrule_units::{Dimension, Length};
use smallvec::SmallVec;

use crate::lot::is_inside;
use crate::shape::depth::depths;
use crate::shape::gap::{Gap, distance_of_cores, gaps};
use crate::shape::piece::{Bounds, Piece, Pieces, pieces};
use crate::shape::rings::cut_off;
use crate::{FeatureId, Measured, Need, Site, Terms, spread, yard};

impl Site {
    /// The shortest distance between two features; zero where they touch or one holds the other.
    ///
    /// A distance stops at zero. Two features that overlap by less than twice the spread of their clearance
    /// keep that spread, since they may stand apart; deeper, the zero is certain. The marks hold the span
    /// between the nearest two points.
    pub fn distance(&self, from: FeatureId, to: FeatureId) -> Measured {
        let clearance = self.clearance(from, to);
        let depth = -clearance.value().si();
        if depth <= 0.0 || !clearance.needs.is_empty() {
            return clearance;
        }
        let near = depth < 2.0 * clearance.spread().si();
        let terms = if near { clearance.terms().clone() } else { Terms::new() };
        Measured::new(Length::ZERO.into(), terms).marked(clearance.marks)
    }

    /// The gap between two features, negative by the depth of penetration where they overlap.
    ///
    /// The depth is the least shift that parts them: exact for discs and convex outlines. An outline that is
    /// not convex counts by its convex parts (the greatest of their least shifts) or, wholly inside another,
    /// by the way to its edge. The clearance passes through zero without a jump where two features touch.
    pub fn clearance(&self, from: FeatureId, to: FeatureId) -> Measured {
        let (a, b) = match (self.drawn(from), self.drawn(to)) {
            (Ok(a), Ok(b)) => (a, b),
            (a, b) => return Measured::lacking(Dimension::Length, needs([a.err(), b.err()])),
        };
        measured(&signed(&a, &b))
    }

    /// The depth of the yard between a feature and a lot line: the distance to the line *segment*,
    /// negative by how far the feature reaches beyond it.
    ///
    /// Beyond means outside of the lot, nearest to this line of all the lot's lines. How far is taken square
    /// to the line, so a corner that sticks out at the corner of a lot reaches beyond each line by its own
    /// amount.
    pub fn yard(&self, feature: FeatureId, line: FeatureId) -> Measured {
        let (a, b) = match (self.drawn(feature), self.drawn(line)) {
            (Ok(a), Ok(b)) => (a, b),
            (a, b) => return Measured::lacking(Dimension::Length, needs([a.err(), b.err()])),
        };
        let ring = self.feature(line).and_then(|line| line.lot).and_then(|lot| self.feature(lot));
        match ring.map(|lot| &lot.shape) {
            Some(Shape::Outline { ring, .. }) => {
                let ring = self.before(line, ring);
                measured(&yard::gaps(&a, &b, &ring))
            }
            _ => measured(&signed(&a, &b)),
        }
    }

    /// The ring of a lot as far as a line set out inside it; the ring itself for any other line.
    pub(crate) fn before<'a>(&self, line: FeatureId, ring: &'a [Point]) -> Cow<'a, [Point]> {
        let inside = self.feature(line).filter(|line| is_inside(line));
        match inside.map(|line| &line.shape) {
            Some(Shape::Line { path, .. }) => cut_off(ring, path),
            _ => Cow::Borrowed(ring),
        }
    }

    /// The pieces of a feature, or what is lacking.
    pub(crate) fn drawn(&self, feature: FeatureId) -> Result<Pieces<'_>, Need> {
        let id = feature;
        let Some(feature) = self.feature(id) else {
            let how = "ask only for features of this site".to_owned();
            return Err(Need { what: format!("a feature numbered {}", feature.0), how });
        };
        let pieces: Pieces = self.shapes(id).flat_map(pieces).collect();
        if pieces.is_empty() {
            let how = "draw it with an outline, a line, a point or a circle".to_owned();
            return Err(Need { what: format!("the shape of {}", feature.id.0), how });
        }
        Ok(pieces)
    }
}

/// Pieces with their boxes, for asking about one shape many times.
pub(crate) type Boxed<'a> = SmallVec<[(Piece<'a>, Bounds); 1]>;

pub(crate) fn boxed<'a>(shapes: impl Iterator<Item = &'a Shape>) -> Boxed<'a> {
    let mut boxed = Boxed::new();
    for piece in shapes.flat_map(pieces) {
        let bounds = piece.bounds();
        boxed.push((piece, bounds));
    }
    boxed
}

/// True when two shapes are no farther apart than `reach`; false where one is absent.
pub(crate) fn within(a: &Boxed, b: &Boxed, reach: f64) -> bool {
    a.iter().any(|(p, of_p)| {
        b.iter().any(|(q, of_q)| {
            let (radii, apart) = (p.radius() + q.radius(), of_p.apart(of_q));
            apart <= reach && distance_of_cores(p, q, apart, reach + radii) - radii <= reach
        })
    })
}

pub(crate) fn needs<const N: usize>(needs: [Option<Need>; N]) -> Vec<Need> {
    let mut needs: Vec<Need> = needs.into_iter().flatten().collect();
    needs.sort();
    needs.dedup();
    needs
}

/// How much wider than the narrowest a gap can be and still turn out the narrowest.
pub(crate) fn slack(a: &[Piece], b: &[Piece]) -> f64 {
    let rough = |pieces: &[Piece]| pieces.iter().map(Piece::roughness).fold(0.0, f64::max);
    6.0 * (rough(a) + rough(b))
}

/// The gaps that may decide the clearance of two shapes, least first.
pub(crate) fn signed<'a>(a: &'a [Piece<'_>], b: &'a [Piece<'_>]) -> Vec<Gap<'a>> {
    let slack = slack(a, b);
    let mut bound = f64::INFINITY;
    let mut found: Vec<Gap<'a>> = Vec::new();
    for p in a {
        for q in b {
            let radii = p.radius() + q.radius();
            let boxes = p.bounds().apart(&q.bounds());
            if boxes > bound {
                continue;
            }
            let apart = distance_of_cores(p, q, boxes, 0.0) - radii;
            let between = if apart > 0.0 { gaps(p, q, slack) } else { depths(p, q, slack) };
            if let Some(least) = between.first() {
                bound = bound.min(least.value + slack);
            }
            found.extend(between);
        }
    }
    found.retain(|gap| gap.value <= bound);
    found.sort_by(|x, y| x.value.total_cmp(&y.value));
    found
}

pub(crate) fn measured(gaps: &[Gap]) -> Measured {
    let Some(least) = gaps.first() else { return Measured::exact(Length::ZERO) };
    let (value, mark) = (Length::from_metres(least.value), least.mark());
    let terms = spread::of_least(gaps.iter().map(|gap| (gap.value, gap.terms())));
    Measured::new(value.into(), terms).marked(vec![mark])
}
