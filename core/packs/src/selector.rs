//! Choosing the features a row is about.

use std::collections::{BTreeMap, BTreeSet};

use groundrule_plan::{Role, Status};
use groundrule_site::{Fact, Feature, FeatureId, Site};

use crate::{Having, Selector};

/// Which features were found to be of which class.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Classed(BTreeMap<String, BTreeSet<FeatureId>>);

impl Classed {
    /// Puts a feature in a class.
    pub fn put(&mut self, class: &str, feature: FeatureId) {
        self.0.entry(class.to_owned()).or_default().insert(feature);
    }

    /// Takes a feature out of a class.
    pub fn take(&mut self, class: &str, feature: FeatureId) {
        self.0.entry(class.to_owned()).or_default().remove(&feature);
    }

    /// Whether a feature is of a class.
    pub fn holds(&self, class: &str, feature: FeatureId) -> bool {
        self.0.get(class).is_some_and(|features| features.contains(&feature))
    }
}

impl Selector {
    /// Every feature of the site that is chosen, in the site's order.
    pub fn select(&self, site: &Site, classes: &Classed) -> Vec<FeatureId> {
        // Neighbors in the list are mostly of one kind, whose place in the tree is looked up once.
        let mut last: Option<(&str, bool)> = None;
        let chosen = site.features().filter(|(id, feature)| {
            let fits = match last {
                Some((kind, fits)) if kind == feature.kind => fits,
                _ => self.kind_fits(site, &feature.kind),
            };
            last = Some((&feature.kind, fits));
            fits && self.rest_fits(*id, feature, classes)
        });
        chosen.map(|(id, _)| id).collect()
    }

    /// Whether a feature is chosen.
    pub fn matches(&self, site: &Site, id: FeatureId, feature: &Feature, classes: &Classed) -> bool {
        self.kind_fits(site, &feature.kind) && self.rest_fits(id, feature, classes)
    }

    fn kind_fits(&self, site: &Site, kind: &str) -> bool {
        let is = |wanted: &String| site.kinds().is_a(kind, wanted);
        // The sheet stands nowhere on the lot: only who names it asks for it.
        (self.kinds.iter().any(is) || (self.kinds.is_empty() && kind != "sheet"))
            && !self.except.iter().any(is)
    }

    /// Whether a feature of a fitting kind is chosen.
    fn rest_fits(&self, id: FeatureId, feature: &Feature, classes: &Classed) -> bool {
        self.status_fits(feature.status)
            && (self.roles.is_empty() || self.roles.iter().any(|role| has_role(feature, *role)))
            && (self.classes.is_empty() || self.classes.iter().any(|class| classes.holds(class, id)))
            && self.having.iter().all(|(name, having)| having.fits(feature.facts.get(name.as_str())))
    }

    /// What the plan does not label is taken as there; what will go is left out unless named.
    fn status_fits(&self, status: Option<Status>) -> bool {
        match status {
            None => true,
            Some(status) if self.status.is_empty() => status != Status::Remove,
            Some(status) => self.status.contains(&status),
        }
    }
}

impl Having {
    fn fits(&self, fact: Option<&Fact>) -> bool {
        match (self, fact) {
            (Self::Stated, fact) => fact.is_some(),
            (Self::Absent, fact) => fact.is_none(),
            (Self::Text(wanted), Some(Fact::Text(text))) => wanted == text,
            (Self::Flag(wanted), Some(Fact::Flag(flag))) => wanted == flag,
            (Self::Text(_) | Self::Flag(_), _) => false,
        }
    }
}

/// The role of a lot line as facts and packs spell it.
pub fn role_word(role: Role) -> &'static str {
    match role {
        Role::Front => "front",
        Role::Side => "side",
        Role::StreetSide => "street_side",
        Role::Rear => "rear",
    }
}

fn has_role(feature: &Feature, role: Role) -> bool {
    matches!(feature.facts.get("role"), Some(Fact::Text(text)) if text == role_word(role))
}
