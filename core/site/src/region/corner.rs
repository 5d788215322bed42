//! The sight area at the corner of a lot.

use groundrule_plan::Name;
use groundrule_survey::Point;
use groundrule_units::Length;

use super::points::{meeting, set_off};
use super::solid::Solid;
use super::{Draft, LotLine, main_edge, usable};
use crate::shape::segments::{dot, norm, place};
use crate::{Fact, FeatureId, Site};

/// The stated fact of a lot line that says how wide the street along it is.
const STREET_WIDTH: &str = "street_width";

impl Site {
    /// The triangle on a lot where two of its lines meet, with a leg along each. Lines that a rounded or cut corner
    /// parts are run on to where they would meet.
    ///
    /// From the centrelines, the legs run along the middles of the streets, which lie half of each line's stated
    /// `street_width` outside of it. None for lines that do not meet, are not drawn or bound different lots, for
    /// a leg that is not above nothing, and for a street width that is wanted and not stated.
    pub fn corner_sight(
        &self,
        (first, second): (FeatureId, FeatureId),
        legs: (Length, Length),
        from_centrelines: bool,
    ) -> Option<Draft> {
        let (leg, other_leg) = (usable(legs.0)?, usable(legs.1)?);
        let (one, other) = (self.lot_line(first)?, self.lot_line(second)?);
        if one.lot != other.lot || first == second {
            return None;
        }
        let (off, other_off) =
            if from_centrelines { (half_street(&one)?, half_street(&other)?) } else { (0.0, 0.0) };
        // Where the end of the first is nearer to the second than its start is, the corner is there.
        let ends = ends_at(&one, &other);
        let edge = moved_out(main_edge(one.path, ends.0)?, off)?;
        let other_edge = moved_out(main_edge(other.path, ends.1)?, other_off)?;
        let corner = meeting((&edge.0, &edge.1), (&other_edge.0, &other_edge.1))?;
        let tip = leg_end(&corner, &edge, leg)?;
        let other_tip = leg_end(&corner, &other_edge, other_leg)?;
        Some(Draft {
            solids: vec![Solid::ring(vec![corner, tip, other_tip])],
            within: Some(one.lot_solid()),
            name: Name(format!("sight area of {} and {}", one.feature.id.0, other.feature.id.0)),
            title: format!(
                "the sight area at the corner of the {} and the {}",
                one.feature.title, other.feature.title
            ),
            lot: Some(one.lot),
            span: one.feature.span,
        })
    }
}

/// Half the stated width of the street along a line, in metres.
fn half_street(line: &LotLine<'_>) -> Option<f64> {
    match line.feature.facts.get(STREET_WIDTH) {
        Some(Fact::Amount(width)) => {
            let half = width.value().length()?.metres() / 2.0;
            (half.is_finite() && half >= 0.0).then_some(half)
        }
        _ => None,
    }
}

/// Whether the corner of two lines is at the end of each, or at its start: the two ends that are nearest decide, the
/// first of equals.
fn ends_at(one: &LotLine<'_>, other: &LotLine<'_>) -> (bool, bool) {
    let apart = |(end, other_end): &(bool, bool)| {
        let of = |path: &[Point], end: bool| if end { path.last() } else { path.first() }.map(place);
        of(one.path, *end).zip(of(other.path, *other_end)).map_or(f64::INFINITY, |(a, b)| norm(a - b))
    };
    let ways = [(true, false), (false, true), (true, true), (false, false)];
    ways.into_iter().min_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap_or((true, false))
}

/// An edge moved to the right, out of the lot.
fn moved_out(edge: (&Point, &Point), off: f64) -> Option<(Point, Point)> {
    if off > 0.0 {
        Some((set_off(edge.0, edge, 0.0, off)?, set_off(edge.1, edge, 0.0, off)?))
    } else {
        Some((edge.0.clone(), edge.1.clone()))
    }
}

/// The end of a leg from the corner along an edge, on the side the edge lies on.
fn leg_end(corner: &Point, edge: &(Point, Point), leg: f64) -> Option<Point> {
    let (a, b) = (place(&edge.0), place(&edge.1));
    let middle = (a + b) / 2.0 - place(corner);
    let sign = if dot(middle, b - a) < 0.0 { -1.0 } else { 1.0 };
    set_off(corner, (&edge.0, &edge.1), sign * leg, 0.0)
}
