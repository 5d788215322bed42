//! Selecting features for a row.

use groundrule_packs::{Classed, Selector};
use groundrule_site::{FeatureId, Site};

/// Every feature of a selector's kinds, whatever else it asks for.
pub(crate) fn of_kind(selector: &Selector, site: &Site) -> Vec<FeatureId> {
    let is = |kind: &str, any: &[String]| any.iter().any(|of| site.kinds().is_a(kind, of));
    let chosen = site.features().filter(|(_, feature)| {
        (selector.kinds.is_empty() || is(&feature.kind, &selector.kinds))
            && !is(&feature.kind, &selector.except)
    });
    chosen.map(|(id, _)| id).collect()
}
