//! The site: features in one local frame with their index.

use groundrule_plan::{KindTree, Plan, Remark};
use groundrule_survey::Layout;

use crate::{Feature, FeatureId};

/// Everything known of one plan, ready to be measured.
#[derive(Debug)]
pub struct Site {
    features: Vec<Feature>,
    kinds: KindTree,
}

impl Site {
    /// Builds the site from a plan and its resolved places.
    pub fn build(plan: &Plan, layout: &Layout, kinds: KindTree) -> (Self, Vec<Remark>) {
        let _ = (plan, layout, kinds);
        todo!()
    }

    /// All features: those of the plan in file order, then each lot followed by its lines.
    pub fn features(&self) -> impl Iterator<Item = (FeatureId, &Feature)> {
        self.features.iter().enumerate().map(|(i, f)| (FeatureId(u32::try_from(i).unwrap_or(u32::MAX)), f))
    }

    /// The feature of this id.
    pub fn feature(&self, id: FeatureId) -> Option<&Feature> {
        self.features.get(id.0 as usize)
    }

    /// The kinds in force.
    pub fn kinds(&self) -> &KindTree {
        &self.kinds
    }
}
