//! Slope over an area.
//!
//! The slope at a place is the length of the gradient of the facet it is in. A mean weighs facets by the part of them
//! inside the area; the least and the greatest leave out parts smaller than a square foot, which no one can measure.

use std::collections::BTreeMap;

use geo::Coord;
use groundrule_survey::{Point, Shape, Surface};
use groundrule_terrain::FacetId;
use groundrule_units::{Angle, Dimension};

use super::model::{Ground, to_place};
use super::no_ground;
use super::picked::{Candidate, Figure, pick};
use crate::shape::piece::{Piece, pieces};
use crate::shape::segments::{dot, norm, place, position};
use crate::terms::Gather;
use crate::{FeatureId, Mark, Measured, Need, Site};

/// The least part of a facet that counts for an extreme, in square metres: a square foot.
const LEAST_PART: f64 = 0.092_903_04;
/// The share of an area that the surface must cover for a mean of it.
pub(crate) const MOSTLY: f64 = 0.5;
/// The same for the least or the greatest of it, and for where its water goes.
pub(crate) const NEARLY_ALL: f64 = 0.85;
/// A slope of less than this has no direction: rounding makes one.
const NO_SLOPE: f64 = 1e-6;
/// A direction that errs by more than this, in radians, is none: an eighth of a turn.
const ANY_WAY: f64 = std::f64::consts::FRAC_PI_4;

impl Site {
    /// The slope of the ground inside an area, however it is turned.
    pub fn slope_over(&self, which: Surface, area: FeatureId, figure: Figure) -> Measured {
        let lacking = |need: Need| Measured::lacking(Dimension::Ratio, vec![need]);
        let Some(ground) = self.ground(which) else { return lacking(no_ground(which)) };
        let Some(feature) = self.feature(area) else { return lacking(no_ground(which)) };
        let extreme = figure != Figure::Mean;
        let parts = match self.covered_by(ground, which, area, if extreme { NEARLY_ALL } else { MOSTLY }) {
            Ok(parts) => parts,
            Err(need) => return lacking(need),
        };
        let covered: f64 = parts.iter().map(|(_, part)| part).sum();
        let counts = |part: f64| !extreme || part >= LEAST_PART.min(covered / 2.0);
        let candidates = parts
            .iter()
            .filter(|(_, part)| counts(*part))
            .map(|(facet, part)| ground.steepness(*facet, *part));
        pick(ground, candidates.collect(), figure, Dimension::Ratio)
            .unwrap_or_else(|| lacking(few_levels(which, &feature.id.0)))
    }

    /// The direction in which the ground of an area falls on the whole, from the mean of its gradients, clockwise from
    /// true north; none where it is level, as far as its levels tell.
    pub fn aspect(&self, which: Surface, area: FeatureId) -> Option<Measured> {
        let lacking = |need: Need| Some(Measured::lacking(Dimension::Angle, vec![need]));
        let Some(ground) = self.ground(which) else { return lacking(no_ground(which)) };
        let Some(north) = self.north() else {
            let how = "say `north` under `[site]`, with its sense".to_owned();
            return lacking(Need { what: "which way north lies on the sheet".to_owned(), how });
        };
        let parts = match self.covered_by(ground, which, area, MOSTLY) {
            Ok(parts) => parts,
            Err(need) => return lacking(need),
        };
        let whole: f64 = parts.iter().map(|(_, part)| part).sum();
        let zero = Coord { x: 0.0, y: 0.0 };
        let rise =
            parts.iter().fold(zero, |sum, (facet, part)| sum + ground.gradient(*facet) * (*part / whole));
        let square = dot(rise, rise);
        if square < NO_SLOPE * NO_SLOPE {
            return None;
        }
        // Turned by what moves the mean gradient square to itself.
        let aside = Coord { x: rise.y, y: -rise.x } / square;
        let mut gather = Gather::default();
        for (facet, part) in &parts {
            let factors = ground.tilts(*facet).map(|tilt| dot(tilt, aside) * *part / whole);
            ground.gather(*facet, factors, &mut gather);
        }
        let turn = libm::atan2(-rise.x, -rise.y) - north.radians();
        let turn = turn.rem_euclid(2.0 * std::f64::consts::PI);
        let mut aspect = Measured::new(Angle::from_radians(turn).into(), gather.finish());
        if aspect.spread().si() > ANY_WAY {
            return None;
        }
        aspect.needs =
            ground.needs(parts.iter().filter(|(_, part)| *part > whole / 2.0).map(|(facet, _)| *facet));
        Some(aspect)
    }
}

/// Too few levels in and around a feature.
pub(crate) fn few_levels(which: Surface, name: &str) -> Need {
    Need {
        what: format!("levels of the {} ground at {name}", super::word(which)),
        how: format!(
            "take levels at the corners and the ends of {name}, so that the surface reaches all of it"
        ),
    }
}

impl Site {
    /// The facets in an area with the parts of them inside, or what is lacking where they leave too much of it out.
    pub(crate) fn covered_by(
        &self,
        ground: &Ground,
        which: Surface,
        area: FeatureId,
        share: f64,
    ) -> Result<Vec<(FacetId, f64)>, Need> {
        let feature = self.feature(area).ok_or_else(|| no_ground(which))?;
        let parts = ground.parts(self.shapes(area));
        let covered: f64 = parts.iter().map(|(_, part)| part).sum();
        let whole = self.area(area).value().si() - ground.built_on(self, area);
        if covered <= 0.0 || covered < share * whole {
            return Err(few_levels(which, &feature.id.0));
        }
        Ok(parts)
    }
}

impl Ground {
    /// The slope of a facet, counting by its area.
    pub(crate) fn steepness_of(&self, facet: FacetId) -> Candidate {
        self.steepness(facet, self.tin.area(facet).square_metres())
    }

    /// The slope of a facet, counting by a part of its area.
    fn steepness(&self, facet: FacetId, part: f64) -> Candidate {
        let slope = self.gradient(facet);
        let value = norm(slope);
        // Level ground tilts as much whichever way, so one way stands for all.
        let way = if value > 0.0 { slope / value } else { Coord { x: 1.0, y: 0.0 } };
        let mut gather = Gather::default();
        self.gather(facet, self.tilts(facet).map(|tilt| dot(tilt, way)), &mut gather);
        let [a, b, c] = self.places_of(facet);
        let mark = Mark::Region([a, b, c].map(position).to_vec());
        Candidate { value, terms: gather.finish(), weight: part, facets: vec![facet], mark }
    }

    /// The facets inside shapes, each with the area of its part inside, in order.
    pub(crate) fn parts<'a>(&self, shapes: impl Iterator<Item = &'a Shape>) -> Vec<(FacetId, f64)> {
        let mut parts: BTreeMap<FacetId, f64> = BTreeMap::new();
        let pieces = shapes.flat_map(pieces).collect::<Vec<_>>();
        for piece in &pieces {
            for (ring, sign) in rings(piece) {
                let ring: Vec<_> = ring.into_iter().map(to_place).collect();
                for (facet, area) in self.tin.within(&ring) {
                    *parts.entry(facet).or_default() += sign * area.square_metres();
                }
            }
        }
        parts.into_iter().filter(|(_, area)| *area > 0.0).collect()
    }

    /// The area of a feature that buildings on the surface take up.
    fn built_on(&self, site: &Site, area: FeatureId) -> f64 {
        let others: Vec<FeatureId> = self.buildings.iter().copied().filter(|it| *it != area).collect();
        if others.is_empty() { 0.0 } else { site.covered(&others, Some(area)).value().si() }
    }
}

/// The rings of a piece, the holes of it counting against it.
fn rings(piece: &Piece<'_>) -> Vec<(Vec<Coord<f64>>, f64)> {
    const SIDES: u32 = 48;
    if let Piece::Disc { centre, radius } = piece {
        let turn = |i: u32| f64::from(i) / f64::from(SIDES) * 2.0 * std::f64::consts::PI;
        let at = |i: u32| {
            let (sin, cos) = libm::sincos(turn(i));
            place(centre) + Coord { x: cos, y: sin } * *radius
        };
        return if *radius > 0.0 { vec![((0..SIDES).map(at).collect(), 1.0)] } else { Vec::new() };
    }
    let places = |ring: &[Point]| ring.iter().map(place).collect();
    piece.rings().enumerate().map(|(i, ring)| (places(ring), if i == 0 { 1.0 } else { -1.0 })).collect()
}
