//! The site: features in one local frame with their index.

use groundrule_plan::{KindTree, Plan, Remark};
use groundrule_survey::{Layout, Shape};
use rayon::prelude::*;
use rstar::RTree;
use rstar::primitives::{GeomWithData, Rectangle};

use crate::shape::piece::{Bounds, Piece, pieces};
use crate::{Feature, FeatureId, build, lots};

/// The boxes of all features that have a shape.
pub(crate) type Index = RTree<GeomWithData<Rectangle<[f64; 2]>, FeatureId>>;

/// Everything known of one plan, ready to be measured.
#[derive(Debug)]
pub struct Site {
    features: Vec<Feature>,
    /// Where the lots and their lines begin among the features.
    first_lot: usize,
    /// Features in order of id.
    by_id: Vec<FeatureId>,
    index: Index,
    kinds: KindTree,
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
        let remarks = lots::assign(plan, &mut features, first_lot);
        let mut by_id: Vec<FeatureId> = (0..features.len()).map(id).collect();
        by_id.par_sort_by(|a, b| features[a.0 as usize].id.cmp(&features[b.0 as usize].id));
        let index = index(features.iter().enumerate().map(|(i, feature)| (id(i), feature)));
        (Self { features, first_lot, by_id, index, kinds }, remarks)
    }

    /// All features: those of the plan in file order, then each lot followed by its lines.
    pub fn features(&self) -> impl Iterator<Item = (FeatureId, &Feature)> {
        self.features.iter().enumerate().map(|(i, feature)| (id(i), feature))
    }

    /// How many features there are, lots and lot lines included.
    pub fn len(&self) -> usize {
        self.features.len()
    }

    /// True when the plan has neither a feature nor a lot.
    pub fn is_empty(&self) -> bool {
        self.features.is_empty()
    }

    /// The feature of this number.
    pub fn feature(&self, id: FeatureId) -> Option<&Feature> {
        self.features.get(id.0 as usize)
    }

    /// The feature of this id: `shed`, `lot.sw-se`. Of several with one id, the first.
    pub fn find(&self, name: &str) -> Option<FeatureId> {
        let before =
            self.by_id.partition_point(|id| self.feature(*id).is_some_and(|f| f.id.0.as_str() < name));
        let found = *self.by_id.get(before)?;
        self.feature(found).filter(|feature| feature.id.0 == name).map(|_| found)
    }

    /// The lots, in file order.
    pub fn lots(&self) -> impl Iterator<Item = FeatureId> {
        let lots = self.features.iter().enumerate().skip(self.first_lot);
        lots.filter(|(_, feature)| feature.kind == build::LOT).map(|(i, _)| id(i))
    }

    /// The lines of a lot, in ring order; none for what is not a lot.
    pub fn lines_of(&self, lot: FeatureId) -> impl Iterator<Item = FeatureId> {
        let after = (lot.0 as usize).saturating_add(1).max(self.first_lot);
        let lines = self.features.iter().enumerate().skip(after);
        lines
            .take_while(move |(_, line)| line.kind == build::LOT_LINE && line.lot == Some(lot))
            .map(|(i, _)| id(i))
    }

    /// The kinds in force.
    pub fn kinds(&self) -> &KindTree {
        &self.kinds
    }

    pub(crate) fn index(&self) -> &Index {
        &self.index
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
