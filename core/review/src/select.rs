//! Selecting features for a row.

use groundrule_packs::Selector;
use groundrule_site::{FeatureId, Site};

use crate::classes::Classes;

/// Every feature a selector is about, those that may be of its classes included.
pub(crate) fn all(selector: &Selector, site: &Site, classes: &Classes) -> Vec<FeatureId> {
    selector.select(site, &|feature, class| classes.may_be(feature, class))
}

/// Every feature of a selector's kinds, whatever else it asks for.
pub(crate) fn of_kind(selector: &Selector, site: &Site) -> Vec<FeatureId> {
    let kinds = Selector { kinds: selector.kinds.clone(), except: selector.except.clone(), ..Selector::default() };
    all(&kinds, site, &Classes::default())
}
