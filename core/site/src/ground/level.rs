//! The level of the ground at a feature: where a spot is, along a line, around an area.
//!
//! Levels along a line or an edge are linear between the places where it crosses edges of the surface, so the least and
//! the greatest are at one of those.

use groundrule_survey::{Point, Surface};
use groundrule_terrain::Stretch;
use groundrule_units::Dimension;

use super::axis::on;
use super::model::Ground;
use super::over::{NEARLY_ALL, few_levels};
use super::picked::{Candidate, Figure, pick};
use super::{no_ground, word};
use crate::shape::piece::pieces;
use crate::shape::segments::{norm, place};
use crate::{FeatureId, Mark, Measured, Need, Site};

impl Site {
    /// The level of the ground along a feature: of an area around its edge, of a spot where it is.
    pub fn level(&self, which: Surface, feature: FeatureId, figure: Figure) -> Measured {
        let lacking = |need: Need| Measured::lacking(Dimension::Length, vec![need]);
        let Some(it) = self.feature(feature) else { return lacking(no_ground(which)) };
        let Some(ground) = self.ground(which) else { return lacking(no_ground(which)) };
        let name = &it.id.0;
        let pieces = pieces(&it.shape);
        if pieces.is_empty() {
            let what = format!("where {name} is, for the level of the {} ground there", word(which));
            return lacking(Need { what, how: format!("draw {name}") });
        }
        let mut all = Vec::new();
        let (mut around, mut reached) = (0.0, 0.0);
        for piece in &pieces {
            let mut edges = piece.edges().peekable();
            if edges.peek().is_none() {
                all.extend(piece.points().filter_map(|point| ground.level_at(point, 0.0)));
            }
            for edge @ (a, b) in edges {
                let (length, stretches) = (norm(place(b) - place(a)), ground.stretches(a, b));
                around += length;
                reached += length * stretches.iter().map(|it| it.to - it.from).sum::<f64>();
                all.extend(ground.crossings(edge, length, &stretches));
            }
        }
        if reached < NEARLY_ALL * around {
            return lacking(few_levels(which, name));
        }
        pick(ground, all, figure, Dimension::Length).unwrap_or_else(|| lacking(few_levels(which, name)))
    }
}

impl Ground {
    /// The levels of a segment where it crosses edges of the surface, each counting by half of the stretches beside it.
    fn crossings(&self, (a, b): (&Point, &Point), length: f64, stretches: &[Stretch]) -> Vec<Candidate> {
        let both = stretches.iter().flat_map(|stretch| {
            let half = (stretch.to - stretch.from) * length / 2.0;
            [(stretch.from, half), (stretch.to, half)]
        });
        both.filter_map(|(share, weight)| self.level_at(&on(a, b, share), weight)).collect()
    }

    fn level_at(&self, point: &Point, weight: f64) -> Option<Candidate> {
        let height = self.height(point)?;
        let facet = self.tin.facet_at(super::model::to_place(place(point)))?;
        // Only the corners that carry the place make it lacking.
        let facets = if height.needs.is_empty() { Vec::new() } else { vec![facet] };
        let weight = if weight > 0.0 { weight } else { 1.0 };
        Some(Candidate {
            value: height.value,
            terms: height.terms,
            weight,
            facets,
            mark: Mark::Spot(point.at),
        })
    }
}
