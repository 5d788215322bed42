//! The site: features in one local frame with their index.

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_plan::{KindTree, Plan, Remark};
use groundrule_survey::{Layout, Point, ResolvedLot, Shape};
use groundrule_units::Angle;
use rayon::prelude::*;
use rstar::RTree;
use rstar::primitives::{GeomWithData, Rectangle};

use crate::ground::{self, Terrain};
use crate::region::Region;
use crate::shape::piece::{Bounds, Piece, pieces};
use crate::{Feature, FeatureId, build, lots, sheet};

/// The boxes of all features that have a shape.
pub(crate) type Index = RTree<GeomWithData<Rectangle<[f64; 2]>, FeatureId>>;

/// Everything known of one plan, ready to be measured.
///
/// A clone shares it all; the regions made in one are seen in that one only.
#[derive(Clone, Debug)]
pub struct Site {
    drawn: Arc<Drawn>,
    regions: Vec<Region>,
}

/// What the plan shows.
#[derive(Debug)]
struct Drawn {
    features: Vec<Feature>,
    /// Where the lots and their lines begin among the features.
    first_lot: usize,
    /// Features in order of id.
    by_id: Vec<FeatureId>,
    index: Index,
    kinds: KindTree,
    /// Where the poles of flag lots end.
    poles: BTreeMap<FeatureId, Point>,
    terrain: Terrain,
    /// Clockwise from the top of the sheet.
    north: Option<Angle>,
}

impl Site {
    /// Builds the site from a plan and its resolved places.
    ///
    /// A feature's lot is the one the plan states, else the one that holds most of it. A remark says where
    /// the two disagree. A shape or lot that the layout lacks is taken as not drawn.
    pub fn build(plan: &Plan, layout: &Layout, kinds: KindTree) -> (Self, Vec<Remark>) {
        let mut features = build::features(plan, layout);
        let first_lot = features.len();
        build::push_lots(plan, layout, &mut features);
        let mut remarks = lots::assign(plan, &mut features, first_lot);
        let (terrain, told) = ground::terrain(plan, layout, &features[..plan.features.len()], &kinds);
        remarks.extend(told);
        features.push(sheet::sheet(plan, layout));
        let mut by_id: Vec<FeatureId> = (0..features.len()).map(id).collect();
        by_id.par_sort_by(|a, b| features[a.0 as usize].id.cmp(&features[b.0 as usize].id));
        let index = index(features.iter().enumerate().map(|(i, feature)| (id(i), feature)));
        let lots = (0..features.len()).filter(|i| features[*i].kind == build::LOT).map(id);
        let pole = |(lot, resolved): (FeatureId, &ResolvedLot)| Some((lot, resolved.pole.clone()?));
        let poles = lots.zip(&layout.lots).filter_map(pole).collect();
        let north = plan.site.north.as_ref().map(|north| north.clockwise_of_up);
        let drawn = Arc::new(Drawn { features, first_lot, by_id, index, kinds, poles, terrain, north });
        (Self { drawn, regions: Vec::new() }, remarks)
    }

    /// All features: those of the plan in file order, then each lot followed by its lines, last the sheet. Regions are
    /// not among them.
    pub fn features(&self) -> impl Iterator<Item = (FeatureId, &Feature)> {
        self.drawn.features.iter().enumerate().map(|(i, feature)| (id(i), feature))
    }

    /// How many features there are: lots, lot lines and the sheet included.
    pub fn len(&self) -> usize {
        self.drawn.features.len()
    }

    /// True when the plan has neither a feature nor a lot.
    pub fn is_empty(&self) -> bool {
        // The sheet is always there.
        self.len() < 2
    }

    /// The feature of this number, or the region.
    pub fn feature(&self, id: FeatureId) -> Option<&Feature> {
        let i = id.0 as usize;
        match i.checked_sub(self.len()) {
            None => self.drawn.features.get(i),
            Some(made) => self.regions.get(made).map(|region| &region.feature),
        }
    }

    /// True for the number of a region.
    pub fn is_region(&self, id: FeatureId) -> bool {
        self.regions().any(|(region, _)| region == id)
    }

    /// The regions made so far, in the order they were made.
    pub(crate) fn regions(&self) -> impl ExactSizeIterator<Item = (FeatureId, &Region)> {
        let first = self.len();
        self.regions.iter().enumerate().map(move |(i, region)| (id(first + i), region))
    }

    /// Everything drawn of a feature. Only a region has more than one shape.
    pub(crate) fn shapes(&self, id: FeatureId) -> impl Iterator<Item = &Shape> {
        let region = (id.0 as usize).checked_sub(self.len()).and_then(|made| self.regions.get(made));
        let rest = region.map(|region| region.rest.as_slice()).unwrap_or_default();
        self.feature(id).map(|feature| &feature.shape).into_iter().chain(rest)
    }

    /// A feature to state more of, in tests of what needs facts.
    #[cfg(test)]
    pub(crate) fn feature_mut(&mut self, id: FeatureId) -> Option<&mut Feature> {
        Arc::get_mut(&mut self.drawn).and_then(|drawn| drawn.features.get_mut(id.0 as usize))
    }

    pub(crate) fn push_region(&mut self, region: Region) -> FeatureId {
        let made = id(self.len().saturating_add(self.regions.len()));
        self.regions.push(region);
        made
    }

    /// The feature of this id: `shed`, `lot.sw-se`. Of several with one id, the first.
    pub fn find(&self, name: &str) -> Option<FeatureId> {
        let before =
            self.drawn.by_id.partition_point(|id| self.feature(*id).is_some_and(|f| f.id.0.as_str() < name));
        let found = *self.drawn.by_id.get(before)?;
        self.feature(found).filter(|feature| feature.id.0 == name).map(|_| found)
    }

    /// The lots, in file order.
    pub fn lots(&self) -> impl Iterator<Item = FeatureId> {
        let lots = self.drawn.features.iter().enumerate().skip(self.drawn.first_lot);
        lots.filter(|(_, feature)| feature.kind == build::LOT).map(|(i, _)| id(i))
    }

    /// The lines of a lot, in ring order; none for what is not a lot.
    pub fn lines_of(&self, lot: FeatureId) -> impl Iterator<Item = FeatureId> {
        let after = (lot.0 as usize).saturating_add(1).max(self.drawn.first_lot);
        let lines = self.drawn.features.iter().enumerate().skip(after);
        lines
            .take_while(move |(_, line)| line.kind == build::LOT_LINE && line.lot == Some(lot))
            .map(|(i, _)| id(i))
    }

    /// Where the pole of a flag lot ends.
    pub(crate) fn pole_of(&self, lot: FeatureId) -> Option<&Point> {
        self.drawn.poles.get(&lot)
    }

    /// The kinds in force.
    pub fn kinds(&self) -> &KindTree {
        &self.drawn.kinds
    }

    /// The direction of true north, clockwise from the top of the sheet.
    pub(crate) fn north(&self) -> Option<Angle> {
        self.drawn.north
    }

    pub(crate) fn terrain(&self) -> &Terrain {
        &self.drawn.terrain
    }

    pub(crate) fn index(&self) -> &Index {
        &self.drawn.index
    }
}

/// The id of the feature at a place in the list. A plan has far fewer than four thousand million.
pub(crate) fn id(i: usize) -> FeatureId {
    FeatureId(u32::try_from(i).unwrap_or(u32::MAX))
}

/// The box around a shape; none when it is absent.
pub(crate) fn bounds_of(shape: &Shape) -> Option<Bounds> {
    let pieces = pieces(shape);
    (!pieces.is_empty()).then(|| pieces.iter().map(Piece::bounds).fold(Bounds::EMPTY, Bounds::joined))
}

pub(crate) fn index<'a>(features: impl Iterator<Item = (FeatureId, &'a Feature)>) -> Index {
    let boxes = features.filter_map(|(id, feature)| {
        let Bounds { low, high } = bounds_of(&feature.shape)?;
        Some(GeomWithData::new(Rectangle::from_corners([low.x, low.y], [high.x, high.y]), id))
    });
    RTree::bulk_load(boxes.collect())
}
