//! Earth to be moved, and the length of contours.

use groundrule_survey::{Point, Shape, Surface};
use groundrule_terrain::{Place, cut_and_fill};
use groundrule_units::{Area, Dimension, Length, Volume};

use super::model::{Ground, to_place};
use super::no_ground;
use super::over::{NEARLY_ALL, few_levels};
use crate::shape::inside::stretches;
use crate::shape::piece::pieces;
use crate::shape::segments::{place, position};
use crate::terms::Gather;
use crate::{FeatureId, Mark, Measured, Need, Site};

/// Earth to be moved.
#[derive(Clone, Debug)]
pub struct Earth {
    /// To be taken away.
    pub cut: Measured,
    /// To be brought in.
    pub fill: Measured,
}

impl Site {
    /// The earth between the ground as it lies and as it shall be, inside an area. Under buildings nothing is counted.
    pub fn earth(&self, area: FeatureId) -> Earth {
        let lacking = |need: Need| {
            let none = Measured::lacking(Dimension::Volume, vec![need]);
            Earth { cut: none.clone(), fill: none }
        };
        let Some(from) = self.ground(Surface::Existing) else { return lacking(no_ground(Surface::Existing)) };
        let Some(to) = self.ground(Surface::Proposed) else { return lacking(no_ground(Surface::Proposed)) };
        let name = self.feature(area).map_or("it", |feature| feature.id.0.as_str());
        let Some(ring) = self.shapes(area).find_map(outer) else {
            return lacking(few_levels(Surface::Proposed, name));
        };
        if let Err(need) = self.covered_by(to, Surface::Proposed, area, NEARLY_ALL) {
            return lacking(need);
        }
        let is_proposed =
            |feature: &crate::Feature| feature.status == Some(groundrule_plan::Status::Proposed);
        if !self.is_regraded() && self.features().any(|(_, feature)| is_proposed(feature)) {
            return lacking(no_ground(Surface::Proposed));
        }
        let places: Vec<Place> = ring.iter().map(|point| to_place(place(point))).collect();
        let moved = cut_and_fill(&from.tin, &to.tin, Some(&places));
        if moved.area.square_metres() <= 0.0 {
            return lacking(few_levels(Surface::Proposed, name));
        }
        let mark = Mark::Region(ring.iter().map(|point| point.at).collect());
        let amount = |volume: Volume, by_from: &[Area], by_to: &[Area]| {
            let mut gather = Gather::default();
            from.raise_all(by_from, &mut gather);
            to.raise_all(by_to, &mut gather);
            Measured::new(volume.into(), gather.finish()).marked(vec![mark.clone()])
        };
        let by = &moved.by_level;
        Earth {
            cut: amount(moved.cut, &by.cut_by_from, &by.cut_by_to),
            fill: amount(moved.fill, &by.fill_by_from, &by.fill_by_to),
        }
    }

    /// The length of the contours at an interval inside an area; how it errs is not followed.
    pub fn contour_length(&self, which: Surface, area: FeatureId, interval: Length) -> Measured {
        let lacking = |need: Need| Measured::lacking(Dimension::Length, vec![need]);
        let Some(ground) = self.ground(which) else { return lacking(no_ground(which)) };
        if let Err(need) = self.covered_by(ground, which, area, NEARLY_ALL) {
            return lacking(need);
        }
        let all: Vec<&Shape> = self.shapes(area).collect();
        let pieces: Vec<_> = all.iter().flat_map(|shape| pieces(shape)).collect();
        let mut length = 0.0;
        for contour in ground.tin.contours(interval, Length::ZERO) {
            let path: Vec<Point> = contour
                .path
                .iter()
                .map(|at| Point { at: position(super::model::to_coord(*at)), ..Point::default() })
                .collect();
            for (a, b) in path.iter().zip(path.iter().skip(1)) {
                length += stretches(a, b, &pieces).iter().map(|stretch| stretch.length).sum::<f64>();
            }
        }
        Measured::exact(Length::from_metres(length))
    }
}

fn outer(shape: &Shape) -> Option<&[Point]> {
    match shape {
        Shape::Outline { ring, .. } => Some(ring),
        _ => None,
    }
}

impl Ground {
    /// Adds how a figure errs that changes by so much for each metre that each corner of the surface rises.
    ///
    /// A corner also moves sideways, and does then what the mean gradient around it makes of that.
    fn raise_all(&self, factors: &[Area], gather: &mut Gather) {
        let slopes = self.slopes();
        for ((corner, factor), slope) in self.corners.iter().zip(factors).zip(slopes) {
            let factor = factor.square_metres();
            if factor != 0.0 {
                gather.terms(&corner.error, factor);
                gather.point(&corner.at, slope * -factor);
            }
        }
    }
}
