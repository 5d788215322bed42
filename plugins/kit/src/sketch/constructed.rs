//! Places a check constructs, and rings: what a sketch can make of rectangles, and what the test hands in.

use std::rc::Rc;

use groundrule_units::Length;

use super::{Exact, Rect, Sketch, Thing};
use crate::{Enclosed, Enclosures, Feature, Regions};

impl Sketch {
    /// Every region handed in for these features, made anew.
    fn handed_in(&self, of: &[Feature]) -> Vec<Feature> {
        let names: Vec<String> = of.iter().map(|&of| self.thing(of).name.clone()).collect();
        let rects = self.prepared.get(&names).cloned().unwrap_or_default();
        rects.into_iter().map(|rect| self.make(of, rect)).collect()
    }

    pub(super) fn make(&self, of: &[Feature], rect: Rect) -> Feature {
        let lot = of.last().and_then(|&of| self.thing(of).lot);
        let mut made = self.made.borrow_mut();
        let handle = self.things.len() + made.len();
        made.push(Rc::new(Thing::new("a region", "region", lot, Some(rect))));
        Feature::from_handle(u32::try_from(handle).unwrap_or(u32::MAX))
    }

    fn strip_of(&self, line: Feature, depth: Length) -> Option<Feature> {
        if depth <= Length::ZERO {
            return None;
        }
        if let Some(prepared) = self.handed_in(&[line]).into_iter().next() {
            return Some(prepared);
        }
        let lot = self.thing(line).lot.and_then(|lot| self.rect(lot))?;
        let strip = self.rect(line)?.grown(depth.metres()).common(lot)?;
        Some(self.make(&[line], strip))
    }

    fn one_of(&self, of: &[Feature], sizes: &[Length]) -> Option<Feature> {
        if sizes.iter().any(|size| *size <= Length::ZERO) {
            return None;
        }
        self.handed_in(of).into_iter().next()
    }
}

impl Regions for Sketch {
    fn lot_corners(&self, lots: &[Feature]) -> Vec<Vec<(Feature, Feature)>> {
        let lines = |lot: Feature| -> Vec<Feature> {
            let own = |thing: &Thing| thing.kind.ends_with("lot-line") && thing.lot == Some(lot);
            let all = (0_u32..).zip(&self.things).filter(|(_, thing)| own(thing));
            all.map(|(handle, _)| Feature::from_handle(handle)).collect()
        };
        let corners = |lines: Vec<Feature>| {
            let next = lines.iter().copied().cycle().skip(1);
            lines.iter().copied().zip(next).filter(|(a, b)| a != b).collect()
        };
        lots.iter().map(|&lot| corners(lines(lot))).collect()
    }

    fn strip(&self, lines: &[Feature], depth: Length) -> Vec<Option<Feature>> {
        lines.iter().map(|&line| self.strip_of(line, depth)).collect()
    }

    fn around(&self, features: &[Feature], reach: Length, _within_lot: bool) -> Vec<Option<Feature>> {
        features.iter().map(|&of| self.one_of(&[of], &[reach])).collect()
    }

    fn corner_sight(
        &self,
        corners: &[(Feature, Feature)],
        first_leg: Length,
        second_leg: Length,
        _from_centrelines: bool,
    ) -> Vec<Option<Feature>> {
        corners.iter().map(|&(a, b)| self.one_of(&[a, b], &[first_leg, second_leg])).collect()
    }

    fn drive_sight(
        &self,
        pairs: &[(Feature, Feature)],
        leg_along: Length,
        leg_in: Length,
    ) -> Vec<Vec<Feature>> {
        let reaches = leg_along > Length::ZERO && leg_in > Length::ZERO;
        let each = |&(drive, line): &(Feature, Feature)| {
            if reaches { self.handed_in(&[drive, line]) } else { Vec::new() }
        };
        pairs.iter().map(each).collect()
    }
}

impl Enclosures for Sketch {
    fn widest_opening(&self, around: Feature, pieces: &[Feature]) -> Option<Enclosed<Exact>> {
        let (opening, ring) = self.rings.get(self.name(around))?;
        // A ring holds only as long as all its pieces are asked about.
        ring.iter()
            .all(|piece| pieces.contains(piece))
            .then(|| Enclosed { opening: Exact::new(*opening), pieces: ring.clone() })
    }
}
