//! The ground of a guest: every call goes to the host.

use groundrule_units::{Length, Quantity};

use super::bindings::groundrule::rules::amounts::{self, Measured};
use super::bindings::groundrule::rules::{area, distance, enclosure, region, site, task, width};
use super::convert;
use crate::{
    Amounts, Areas, Asked, Distances, Enclosed, Enclosures, Facts, Feature, Place, Regions, Shape, Value,
    Widths,
};

/// The host that runs this module.
#[derive(Clone, Copy, Debug)]
pub struct Host;

impl Amounts for Host {
    type Amount = Measured;

    fn values(&self, items: &[&Measured]) -> Vec<Quantity> {
        amounts::values(items).iter().map(convert::quantity).collect()
    }

    fn lacks(&self, items: &[&Measured]) -> Vec<bool> {
        amounts::lacks(items)
    }

    fn add(&self, pairs: &[(&Measured, &Measured)]) -> Vec<Measured> {
        amounts::add(pairs)
    }

    fn subtract(&self, pairs: &[(&Measured, &Measured)]) -> Vec<Measured> {
        amounts::subtract(pairs)
    }

    fn ratio(&self, pairs: &[(&Measured, &Measured)]) -> Vec<Option<Measured>> {
        amounts::ratio(pairs)
    }

    fn scale(&self, items: &[(&Measured, f64)]) -> Vec<Measured> {
        amounts::scale(items)
    }

    fn sum(&self, items: &[&Measured]) -> Option<Measured> {
        amounts::sum(items)
    }

    fn least(&self, items: &[&Measured]) -> Option<Measured> {
        amounts::least(items)
    }

    fn greatest(&self, items: &[&Measured]) -> Option<Measured> {
        amounts::greatest(items)
    }
}

impl Asked for Host {
    fn subjects(&self) -> Vec<Feature> {
        convert::features(task::subjects())
    }

    fn group(&self, name: &str) -> Vec<Feature> {
        convert::features(task::group(name))
    }

    fn parameter(&self, name: &str) -> Option<Value> {
        task::parameter(name).map(convert::value)
    }

    fn parameter_amount(&self, name: &str) -> Option<Measured> {
        task::parameter_amount(name)
    }
}

impl Facts for Host {
    fn labels(&self, features: &[Feature]) -> Vec<String> {
        site::label(&convert::handles(features))
    }

    fn is_a(&self, features: &[Feature], kind: &str) -> Vec<bool> {
        site::is_a(&convert::handles(features), kind)
    }

    fn shapes(&self, features: &[Feature]) -> Vec<Shape> {
        site::shapes(&convert::handles(features)).into_iter().map(convert::shape).collect()
    }

    fn lot_of(&self, features: &[Feature]) -> Vec<Option<Feature>> {
        let lots = site::lot_of(&convert::handles(features));
        lots.into_iter().map(|lot| lot.map(Feature::from_handle)).collect()
    }

    fn fact(&self, features: &[Feature], name: &str) -> Vec<Option<Value>> {
        let facts = site::fact(&convert::handles(features), name);
        facts.into_iter().map(|fact| fact.map(convert::value)).collect()
    }

    fn stated(&self, features: &[Feature], name: &str) -> Vec<Option<Measured>> {
        site::stated(&convert::handles(features), name)
    }

    fn stated_each(&self, features: &[Feature], name: &str) -> Vec<Vec<Measured>> {
        site::stated_each(&convert::handles(features), name)
    }

    fn outline(&self, of: Feature) -> Vec<Place> {
        convert::places(&site::outline(of.handle()))
    }
}

impl Distances for Host {
    fn between(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        distance::between(&convert::pairs(pairs))
    }

    fn clearance(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        distance::clearance(&convert::pairs(pairs))
    }

    fn yard(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        distance::yard(&convert::pairs(pairs))
    }

    fn near(&self, from: &[Feature], to: &[Feature], reach: Length) -> Vec<(Feature, Feature)> {
        let found = distance::near(&convert::handles(from), &convert::handles(to), reach.metres());
        convert::feature_pairs(found)
    }

    fn facing(&self, features: &[Feature]) -> Vec<Vec<Option<Feature>>> {
        let sides =
            |lines: Vec<Option<u32>>| lines.into_iter().map(|line| line.map(Feature::from_handle)).collect();
        distance::facing(&convert::handles(features)).into_iter().map(sides).collect()
    }
}

impl Areas for Host {
    fn area(&self, features: &[Feature]) -> Vec<Measured> {
        area::of(&convert::handles(features))
    }

    fn covered(&self, features: &[Feature], within: Option<Feature>) -> Measured {
        area::covered(&convert::handles(features), within.map(Feature::handle))
    }

    fn overlap(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        area::overlap(&convert::pairs(pairs))
    }

    fn length(&self, features: &[Feature]) -> Vec<Measured> {
        area::length(&convert::handles(features))
    }

    fn length_inside(&self, pairs: &[(Feature, Feature)]) -> Vec<Measured> {
        area::length_inside(&convert::pairs(pairs))
    }
}

impl Widths for Host {
    fn drawn_width(&self, features: &[Feature]) -> Vec<Measured> {
        width::drawn(&convert::handles(features))
    }
}

impl Regions for Host {
    fn lot_corners(&self, lots: &[Feature]) -> Vec<Vec<(Feature, Feature)>> {
        region::lot_corners(&convert::handles(lots)).into_iter().map(convert::feature_pairs).collect()
    }

    fn strip(&self, lines: &[Feature], depth: Length) -> Vec<Option<Feature>> {
        convert::perhaps(region::strip(&convert::handles(lines), depth.metres()))
    }

    fn around(&self, features: &[Feature], reach: Length, within_lot: bool) -> Vec<Option<Feature>> {
        convert::perhaps(region::around(&convert::handles(features), reach.metres(), within_lot))
    }

    fn corner_sight(
        &self,
        corners: &[(Feature, Feature)],
        first_leg: Length,
        second_leg: Length,
        from_centrelines: bool,
    ) -> Vec<Option<Feature>> {
        let legs = (first_leg.metres(), second_leg.metres());
        convert::perhaps(region::corner_sight(&convert::pairs(corners), legs.0, legs.1, from_centrelines))
    }

    fn drive_sight(
        &self,
        pairs: &[(Feature, Feature)],
        leg_along: Length,
        leg_in: Length,
    ) -> Vec<Vec<Feature>> {
        let found = region::drive_sight(&convert::pairs(pairs), leg_along.metres(), leg_in.metres());
        found.into_iter().map(convert::features).collect()
    }
}

impl Enclosures for Host {
    fn widest_opening(&self, around: Feature, pieces: &[Feature]) -> Option<Enclosed<Measured>> {
        let ring = enclosure::widest_opening(around.handle(), &convert::handles(pieces))?;
        Some(Enclosed { opening: ring.opening, pieces: convert::features(ring.pieces) })
    }
}
