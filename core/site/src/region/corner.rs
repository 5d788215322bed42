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

#[cfg(test)]
mod tests {
    use groundrule_plan::{KindTree, Source};
    use groundrule_units::Length;

    use crate::{Fact, FeatureId, Measured, Site};

    /// Worked case T58 of the rule catalogue, by hand for streets of other widths.
    #[test]
    fn legs_on_the_centrelines() {
        let check = |widths: [Option<f64>; 2], legs: (f64, f64), expected: Option<f64>| {
            let (mut site, lines) = corner_lot();
            for (line, width) in lines.into_iter().zip(widths) {
                let Some(width) = width else { continue };
                let line = site.feature_mut(line).expect("nobody else has the site yet");
                let width = Fact::Amount(Box::new(Measured::exact(Length::from_feet(width))));
                line.facts.insert("street_width".to_owned(), width);
            }
            let legs = (Length::from_feet(legs.0), Length::from_feet(legs.1));
            let draft = site.corner_sight((lines[0], lines[1]), legs, true);
            let region = draft.and_then(|draft| site.region(&draft));
            let area = region.map(|region| site.area(region).value().si() / (0.3048 * 0.3048));
            match (area, expected) {
                (Some(area), Some(expected)) => assert!((area - expected).abs() < 1e-6, "{area} {expected}"),
                (area, expected) => assert_eq!(area, expected, "{widths:?} {legs:?}"),
            }
        };
        check([Some(50.0), Some(50.0)], (75.0, 75.0), Some(312.5));
        // The hypotenuse runs 75 from the corner of the centrelines on both: it crosses the lot's own lines 75 - 25 - 20
        // from their corner.
        check([Some(50.0), Some(40.0)], (75.0, 75.0), Some(30.0 * 30.0 / 2.0));
        // The first leg, along the south street, is 90 and the other 45: half as steep.
        check([Some(60.0), Some(20.0)], (90.0, 45.0), Some(20.0 * 10.0 / 2.0));
        check([Some(0.0), Some(0.0)], (25.0, 25.0), Some(312.5));
        check([Some(50.0), Some(50.0)], (49.0, 50.0), None);
        check([Some(50.0), None], (75.0, 75.0), None);
        check([None, None], (75.0, 75.0), None);
        check([Some(-50.0), Some(50.0)], (75.0, 75.0), None);
    }

    /// A lot of 80 by 100 and its south and west line.
    fn corner_lot() -> (Site, [FeatureId; 2]) {
        let text = r#"
            [site]
            name = "Tern Hollow"
            units = "ft"

            [lot]
            corners = [[0, 0], [80, 0], [80, 100], [0, 100]]
            names = ["sw", "se", "ne", "nw"]
        "#;
        let source = Source { name: "lot.toml".to_owned(), text: text.into() };
        let plan = groundrule_plan::read_plan(&source).expect("a plan");
        let (layout, _) = groundrule_survey::resolve(&plan).expect("a layout");
        let (site, _) = Site::build(&plan, &layout, KindTree::standard());
        let lines = ["lot.sw-se", "lot.nw-sw"].map(|name| site.find(name).expect("a line"));
        (site, lines)
    }
}
