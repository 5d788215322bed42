//! Hollows: ground that no water leaves but over its rim.
//!
//! An inlet empties the hollow whose bottom it stands at. How deep the deepest hollow is, is judged by a signed depth:
//! where there is none, by how much some corner would have to sink before it lay lower than all around it.

use groundrule_survey::{Position, Shape, Surface};
use groundrule_terrain::{Hollow as Found, VertexId};
use groundrule_units::{Dimension, Length, Quantity};

use super::contours::to_position;
use super::model::{Ground, to_coord};
use super::no_ground;
use super::over::few_levels;
use crate::shape::piece::Piece;
use crate::shape::rings::{self, Lies};
use crate::shape::segments::{norm, position};
use crate::spread::of_least;
use crate::terms::combine;
use crate::{FeatureId, Mark, Measured, Need, Site, Terms};

/// A corner of the surface within so many metres of an inlet drains into it: two feet.
const AT_DRAIN: f64 = 0.6096;

/// A hollow.
#[derive(Clone, Debug)]
pub struct Hollow {
    /// From its bottom to the lowest place of its rim.
    pub depth: Measured,
    /// The water's edge when it is full.
    pub area: Measured,
    /// What it holds.
    pub volume: Measured,
    /// Its lowest place.
    pub bottom: Position,
    /// Where it runs over.
    pub spill: Position,
    /// The one it is part of, by its place in the list.
    pub inside: Option<usize>,
}

impl Site {
    /// The hollows whose bottom lies within a feature, those that a drain empties left out.
    pub fn hollows(
        &self,
        which: Surface,
        within: FeatureId,
        drains: &[FeatureId],
    ) -> Result<Vec<Hollow>, Need> {
        let (ground, pieces) = self.ground_within(which, within)?;
        let all = ground.tin.hollows(&ground.drained(&self.middles(drains)));
        let kept: Vec<usize> = (0..all.len())
            .filter(|i| all.get(*i).is_some_and(|it| ground.lies_within(it.bottom, &pieces)))
            .collect();
        let new = |old: usize| kept.iter().position(|i| *i == old);
        let hollow = |old: &usize| {
            let found = all.get(*old)?;
            Some(Hollow {
                depth: ground.depth(found),
                area: Measured::exact(found.area).marked(regions(found)),
                volume: ground.held(found),
                bottom: ground.at(found.bottom),
                spill: ground.at(found.spill),
                inside: found.parent.and_then(new),
            })
        };
        Ok(kept.iter().filter_map(hollow).collect())
    }

    /// The depth of the deepest hollow within a feature, less than nothing where there is none.
    pub fn deepest(&self, which: Surface, within: FeatureId, drains: &[FeatureId]) -> Measured {
        let lacking = |need: Need| Measured::lacking(Dimension::Length, vec![need]);
        let (ground, pieces) = match self.ground_within(which, within) {
            Ok(found) => found,
            Err(need) => return lacking(need),
        };
        let drained = ground.drained(&self.middles(drains));
        let all = ground.tin.hollows(&drained);
        let inside =
            all.iter().filter(|hollow| hollow.parent.is_none() && ground.lies_within(hollow.bottom, &pieces));
        let mut depths: Vec<Measured> = inside.map(|hollow| ground.depth(hollow)).collect();
        if depths.is_empty() {
            depths = ground.nearly(&drained, &pieces);
        }
        depths.sort_by(|a, b| b.value().si().total_cmp(&a.value().si()));
        let name = self.feature(within).map_or("it", |feature| feature.id.0.as_str());
        let Some(first) = depths.first() else { return lacking(few_levels(which, name)) };
        let negative = |depth: &Measured| (-depth.value().si(), turned(depth.terms()));
        let terms = turned(&of_least(depths.iter().map(negative)));
        let mut deepest = Measured::new(first.value(), terms).marked(first.marks.clone());
        deepest.needs.clone_from(&first.needs);
        deepest
    }

    fn ground_within(&self, which: Surface, within: FeatureId) -> Result<(&Ground, Vec<Piece<'_>>), Need> {
        let ground = self.ground(which).ok_or_else(|| no_ground(which))?;
        let pieces = self.drawn(within)?.into_iter().collect();
        Ok((ground, pieces))
    }

    /// Where drains are: each spot, and each corner and the middle of what is larger.
    pub(crate) fn middles(&self, drains: &[FeatureId]) -> Vec<Position> {
        let all = drains.iter().filter_map(|drain| self.feature(*drain));
        all.flat_map(|drain| match &drain.shape {
            Shape::Spot(point) | Shape::Disc { centre: point, .. } => vec![point.at],
            Shape::Line { path, .. } => path.iter().map(|point| point.at).collect(),
            Shape::Outline { ring, .. } => {
                ring.iter().map(|point| point.at).chain([position(rings::middle(ring))]).collect()
            }
            Shape::Absent => Vec::new(),
        })
        .collect()
    }
}

fn turned(terms: &Terms) -> Terms {
    terms.iter().map(|(source, term)| (*source, -term)).collect()
}

fn regions(hollow: &Found) -> Vec<Mark> {
    let ring =
        |ring: &Vec<groundrule_terrain::Place>| Mark::Region(ring.iter().copied().map(to_position).collect());
    hollow.outlines.iter().map(ring).collect()
}

impl Ground {
    /// The corners that drains at these places empty: those within two feet.
    pub(crate) fn drained(&self, drains: &[Position]) -> Vec<VertexId> {
        let drains: Vec<geo::Coord<f64>> =
            drains.iter().map(|drain| geo::Coord { x: drain.x.metres(), y: drain.y.metres() }).collect();
        let near = |at: geo::Coord<f64>| drains.iter().any(|drain| norm(at - *drain) <= AT_DRAIN);
        let all = self.tin.vertices().iter().enumerate().filter(|(_, vertex)| near(to_coord(vertex.at)));
        all.map(|(i, _)| VertexId(u32::try_from(i).unwrap_or(u32::MAX))).collect()
    }

    fn at(&self, vertex: VertexId) -> Position {
        self.tin
            .vertices()
            .get(vertex.0 as usize)
            .map_or_else(Position::default, |vertex| to_position(vertex.at))
    }

    fn lies_within(&self, vertex: VertexId, pieces: &[Piece<'_>]) -> bool {
        let at = self.at(vertex);
        let at = geo::Coord { x: at.x.metres(), y: at.y.metres() };
        pieces.iter().any(|piece| piece.lies(at) != Lies::Outside)
    }

    /// How much the first of two corners lies below the second.
    fn below(&self, low: VertexId, high: VertexId) -> Measured {
        let level =
            |vertex: VertexId| self.tin.vertices().get(vertex.0 as usize).map_or(0.0, |v| v.level.metres());
        let corner = |vertex: VertexId| self.corners.get(vertex.0 as usize);
        let terms =
            corner(high).zip(corner(low)).map(|(high, low)| combine(&high.error, 1.0, &low.error, -1.0));
        let value = Quantity::new(Dimension::Length, level(high) - level(low));
        let mut measured = Measured::new(value, terms.unwrap_or_default());
        let needs = [low, high].into_iter().filter_map(|vertex| corner(vertex)?.guessed.clone());
        measured.needs = super::model::sorted(needs.collect());
        measured
    }

    fn depth(&self, hollow: &Found) -> Measured {
        let mut marks = regions(hollow);
        marks.push(Mark::Spot(self.at(hollow.bottom)));
        self.below(hollow.bottom, hollow.spill).marked(marks)
    }

    /// What a hollow holds: it grows by its area for each metre that its rim rises against its bottom.
    fn held(&self, hollow: &Found) -> Measured {
        let depth = self.depth(hollow);
        let area = hollow.area.square_metres();
        let terms = depth.terms().iter().map(|(source, term)| (*source, term * area)).collect();
        Measured::new(hollow.volume.into(), terms).marked(depth.marks)
    }

    /// For each corner that all around it could make a hollow, how much it lies below its lowest neighbour: less than
    /// nothing, since none does.
    fn nearly(&self, drained: &[VertexId], pieces: &[Piece<'_>]) -> Vec<Measured> {
        let mut lowest: Vec<Option<VertexId>> = vec![None; self.corners.len()];
        let mut rim = vec![false; self.corners.len()];
        let level =
            |vertex: VertexId| self.tin.vertices().get(vertex.0 as usize).map_or(Length::ZERO, |v| v.level);
        for facet in self.tin.facet_ids() {
            let corners = self.tin.corners(facet);
            let neighbours = self.tin.neighbours(facet);
            for (i, vertex) in corners.iter().enumerate() {
                let others = [corners[(i + 1) % 3], corners[(i + 2) % 3]];
                if let Some(slot) = lowest.get_mut(vertex.0 as usize) {
                    *slot = slot.iter().copied().chain(others).min_by_key(|other| (level(*other), *other));
                }
                let outer = neighbours[i].is_none()
                    && self.tin.rim(facet, i).is_some_and(|rim| rim == groundrule_terrain::Rim::Outer);
                for end in [*vertex, corners[(i + 1) % 3]] {
                    if let Some(slot) = rim.get_mut(end.0 as usize) {
                        *slot |= outer;
                    }
                }
            }
        }
        let ids = (0..self.corners.len()).map(|i| VertexId(u32::try_from(i).unwrap_or(u32::MAX)));
        ids.zip(lowest)
            .zip(rim)
            .filter(|((vertex, _), rim)| {
                !rim && !drained.contains(vertex) && self.lies_within(*vertex, pieces)
            })
            .filter_map(|((vertex, low), _)| {
                let mark = Mark::Spot(self.at(vertex));
                Some(self.below(vertex, low?).marked(vec![mark]))
            })
            .collect()
    }
}
