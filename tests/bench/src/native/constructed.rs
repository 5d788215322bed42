//! Places that a check constructs, and rings.

use groundrule_kit::{Enclosed, Enclosures, Feature, Length, Regions};
use groundrule_site::Measured;
use groundrule_site::region::Draft;

use super::{Native, feature, id, ids};

impl Native<'_> {
    fn made(&self, draft: Option<Draft>) -> Option<Feature> {
        self.site.borrow_mut().region(&draft?).map(feature)
    }
}

impl Regions for Native<'_> {
    fn lot_corners(&self, lots: &[Feature]) -> Vec<Vec<(Feature, Feature)>> {
        let of = |lot: &Feature| self.site().lot_corners(id(*lot));
        lots.iter().map(|lot| of(lot).into_iter().map(|(a, b)| (feature(a), feature(b))).collect()).collect()
    }

    fn strip(&self, lines: &[Feature], depth: Length) -> Vec<Option<Feature>> {
        let draft = |line: &Feature| self.site().strip(id(*line), depth);
        lines.iter().map(|line| self.made(draft(line))).collect()
    }

    fn around(&self, features: &[Feature], reach: Length, within_lot: bool) -> Vec<Option<Feature>> {
        let draft = |of: &Feature| self.site().around(id(*of), reach, within_lot);
        features.iter().map(|of| self.made(draft(of))).collect()
    }

    fn corner_sight(
        &self,
        corners: &[(Feature, Feature)],
        first_leg: Length,
        second_leg: Length,
        from_centrelines: bool,
    ) -> Vec<Option<Feature>> {
        let legs = (first_leg, second_leg);
        let draft =
            |(a, b): &(Feature, Feature)| self.site().corner_sight((id(*a), id(*b)), legs, from_centrelines);
        corners.iter().map(|corner| self.made(draft(corner))).collect()
    }

    fn drive_sight(
        &self,
        pairs: &[(Feature, Feature)],
        leg_along: Length,
        leg_in: Length,
    ) -> Vec<Vec<Feature>> {
        let drafts =
            |(a, b): &(Feature, Feature)| self.site().drive_sight((id(*a), id(*b)), leg_along, leg_in);
        let made = |pair| drafts(pair).into_iter().filter_map(|draft| self.made(Some(draft))).collect();
        pairs.iter().map(made).collect()
    }
}

impl Enclosures for Native<'_> {
    fn widest_opening(&self, around: Feature, pieces: &[Feature]) -> Option<Enclosed<Measured>> {
        let ring = self.site().widest_opening(id(around), &ids(pieces))?;
        Some(Enclosed { opening: ring.opening, pieces: ring.pieces.into_iter().map(feature).collect() })
    }
}
