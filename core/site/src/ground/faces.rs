//! Faces of the ground steeper than a slope, with the lines along their foot and their top.
//!
//! Foot and top become features of the run, so that every distance can be measured to them; their points are corners of
//! the surface and err with those.

use std::collections::BTreeSet;

use groundrule_plan::{Name, Span};
use groundrule_survey::{Point, Position, Shape, Surface};
use groundrule_terrain::{FacetId, Place, VertexId};
use groundrule_units::{Dimension, Length, Quantity, Ratio};

use super::model::{Ground, to_coord};
use super::over::few_levels;
use super::picked::{Figure, pick};
use super::{no_ground, word};
use crate::shape::segments::place;
use crate::terms::combine;
use crate::{FeatureId, Mark, Measured, Need, Site};

/// A face before its lines are features.
#[derive(Clone, Debug)]
pub struct FaceDraft {
    /// From the lowest of its foot to the highest of its top.
    pub height: Measured,
    /// Its steepest slope.
    pub slope: Measured,
    toe: Vec<Vec<Point>>,
    crest: Vec<Vec<Point>>,
    name: String,
    lot: Option<FeatureId>,
    span: Span,
}

/// A face of the ground.
#[derive(Clone, Debug)]
pub struct Face {
    /// The line along its foot.
    pub toe: FeatureId,
    /// The line along its top.
    pub crest: FeatureId,
    /// From the lowest of its foot to the highest of its top.
    pub height: Measured,
    /// Its steepest slope.
    pub slope: Measured,
}

impl FaceDraft {
    /// The number of points of its lines.
    pub fn vertices(&self) -> usize {
        self.toe.iter().chain(&self.crest).map(Vec::len).sum()
    }
}

impl Site {
    /// The faces steeper than a slope that lie in an area, in part at least.
    pub fn faces(
        &self,
        which: Surface,
        within: FeatureId,
        steeper_than: Ratio,
    ) -> Result<Vec<FaceDraft>, Need> {
        let ground = self.ground(which).ok_or_else(|| no_ground(which))?;
        let feature = self.feature(within).ok_or_else(|| no_ground(which))?;
        let inside: BTreeSet<FacetId> =
            ground.parts(self.shapes(within)).into_iter().map(|(facet, _)| facet).collect();
        if inside.is_empty() {
            return Err(few_levels(which, &feature.id.0));
        }
        let mut drafts = Vec::new();
        for face in ground.tin.faces(steeper_than) {
            if !face.facets.iter().any(|facet| inside.contains(facet)) {
                continue;
            }
            let toe = ground.corner_lines(&face.lower_edge, face.toe);
            let crest = ground.corner_lines(&face.upper_edge, face.crest);
            let level = |vertex: VertexId| {
                ground.tin.vertices().get(vertex.0 as usize).map_or(0.0, |vertex| vertex.level.metres())
            };
            let error = |vertex: VertexId| ground.corners.get(vertex.0 as usize).map(|corner| &corner.error);
            let (low, high) = (face.toe, face.crest);
            let terms = error(high)
                .zip(error(low))
                .map(|(high, low)| combine(high, 1.0, low, -1.0))
                .unwrap_or_default();
            let ends = [low, high]
                .map(|v| ground.tin.vertices().get(v.0 as usize).map(|v| Position { x: v.at.x, y: v.at.y }));
            let height = Quantity::new(Dimension::Length, level(high) - level(low));
            let mut height = Measured::new(height, terms);
            if let [Some(low), Some(high)] = ends {
                height.marks = vec![Mark::Span(low, high)];
            }
            let parts = face.facets.iter().map(|facet| ground.steepness_of(*facet));
            let Some(slope) = pick(ground, parts.collect(), Figure::Greatest, Dimension::Ratio) else {
                continue;
            };
            drafts.push(FaceDraft {
                height,
                slope,
                toe,
                crest,
                name: format!("face {} of the {} ground", drafts.len() + 1, word(which)),
                lot: feature.lot,
                span: feature.span,
            });
        }
        Ok(drafts)
    }

    /// Makes the lines of a face features of this site and its later clones.
    pub fn face(&mut self, draft: &FaceDraft) -> Face {
        let mut line = |what: &str, paths: &[Vec<Point>]| {
            let name = Name(format!("{what} of {}", draft.name));
            let title = format!("the {what} of a slope");
            let shape = |path: &Vec<Point>| match path.as_slice() {
                [only] => Shape::Spot(only.clone()),
                path => Shape::Line { path: path.to_vec(), width: Length::ZERO },
            };
            self.draw(name, title, paths.iter().map(shape).collect(), draft.lot, draft.span)
        };
        let (toe, crest) = (line("foot", &draft.toe), line("top", &draft.crest));
        Face { toe, crest, height: draft.height.clone(), slope: draft.slope.clone() }
    }
}

impl Ground {
    /// Runs of corners of the surface, as points that err as those do. Where the face ends at the edge of the levels there
    /// are none, and the corner farthest up or down stands for them.
    fn corner_lines(&self, runs: &[Vec<Place>], farthest: VertexId) -> Vec<Vec<Point>> {
        let point = |at: &Place| {
            let facet = self.tin.facet_at(*at);
            let corners = facet.into_iter().flat_map(|facet| self.corners_of(facet)).flatten();
            let held = corners.map(|corner| &corner.at).find(|point| place(point) == to_coord(*at));
            held.cloned().unwrap_or(Point { at: Position { x: at.x, y: at.y }, ..Point::default() })
        };
        let line = |run: &Vec<Place>| -> Vec<Point> { run.iter().map(point).collect() };
        let lines: Vec<Vec<Point>> = runs.iter().filter(|run| run.len() > 1).map(line).collect();
        if !lines.is_empty() {
            return lines;
        }
        let corner = self.corners.get(farthest.0 as usize).map(|corner| corner.at.clone());
        corner.into_iter().map(|corner| vec![corner]).collect()
    }
}
