//! Where a row's formulas and tables find their names: the subject, its lot, the site and the reading.

use groundrule_packs::Facts;
use groundrule_plan::SiteFacts;
use groundrule_site::{Fact, Facts as Stated, Feature, FeatureId, Measured, Need, Site};
use groundrule_survey::Shape;

use crate::words;

/// The kind of a lot.
const LOT: &str = "lot";
/// What is known of a lot once its front is.
const OF_FRONT: [&str; 4] = ["position", "frontage", "depth", "width"];

/// The facts of one reading.
///
/// `subject.` and `lot.` are the first feature and the lot it stands on; `line.`, `other.` and `against.`
/// are what it was measured to; `reading.` holds what the module said beside its answer; `site.` is the plan's.
pub(crate) struct ReadingFacts<'a> {
    pub(crate) site: &'a Site,
    pub(crate) plan: &'a SiteFacts,
    pub(crate) features: &'a [FeatureId],
    pub(crate) reading: &'a Stated,
}

impl ReadingFacts<'_> {
    fn subject(&self) -> Option<FeatureId> {
        self.features.first().copied()
    }

    fn lot(&self) -> Option<FeatureId> {
        self.site.feature(self.subject()?)?.lot
    }

    fn of_feature(&self, id: FeatureId, name: &str) -> Option<Fact> {
        let feature = self.site.feature(id)?;
        feature.facts.get(name).cloned().or_else(|| self.derived(id, feature, name))
    }

    /// What every feature has without stating it.
    fn derived(&self, id: FeatureId, feature: &Feature, name: &str) -> Option<Fact> {
        let drawn = !matches!(feature.shape, Shape::Absent);
        match name {
            "id" => Some(Fact::Text(feature.id.0.clone())),
            "title" => Some(Fact::Text(feature.title.clone())),
            "kind" => Some(Fact::Text(feature.kind.clone())),
            "area" if drawn => known(self.site.area(id)),
            "length" if drawn => known(self.site.length(id)),
            "frontage" if feature.kind == LOT => known(self.site.frontage(id)),
            "depth" if feature.kind == LOT => known(self.site.lot_depth(id)),
            "width" if feature.kind == LOT => known(self.site.lot_width(id)),
            _ => None,
        }
    }

    fn of_site(&self, name: &str) -> Option<Fact> {
        let text = |value: &Option<String>| value.clone().map(Fact::Text);
        match name {
            "name" => Some(Fact::Text(self.plan.name.clone())),
            "district" => text(&self.plan.district),
            "filed" => text(&self.plan.filed),
            "permit" => text(&self.plan.permit),
            "latitude" => self.plan.latitude.map(|angle| Fact::Amount(Box::new(Measured::exact(angle)))),
            "longitude" => self.plan.longitude.map(|angle| Fact::Amount(Box::new(Measured::exact(angle)))),
            _ => None,
        }
    }
}

impl Facts for ReadingFacts<'_> {
    fn fact(&self, name: &str) -> Option<Fact> {
        let (owner, rest) = name.split_once('.')?;
        match owner {
            "subject" => self.of_feature(self.subject()?, rest),
            "lot" => self.of_feature(self.lot()?, rest),
            "line" | "other" | "against" => self.of_feature(self.features.get(1).copied()?, rest),
            "reading" => self.reading.get(rest).cloned(),
            "site" => self.of_site(rest),
            _ => None,
        }
    }
}

impl ReadingFacts<'_> {
    /// The need that a name leaves when no fact answers it.
    pub(crate) fn need(&self, name: &str) -> Need {
        let (owner, fact) = name.split_once('.').unwrap_or(("reading", name));
        let feature = match owner {
            "subject" => self.subject(),
            "lot" => self.lot(),
            "line" | "other" | "against" => self.features.get(1).copied(),
            _ => None,
        }
        .and_then(|id| self.site.feature(id));
        let plain = words::plain(fact);
        match (owner, feature) {
            ("site", _) => Need {
                what: format!("the {plain} of the site"),
                how: format!("State `{fact}` under [site]."),
            },
            ("lot", Some(_)) if OF_FRONT.contains(&fact) => {
                self.lot().map_or_else(Need::default, |lot| self.site.front_need(lot))
            }
            ("lot", Some(lot)) => Need {
                what: format!("the {plain} of {}", lot.id.0),
                how: "No plan states it and nothing here measures it; judge this rule by hand.".to_owned(),
            },
            (_, Some(feature)) => Need {
                what: format!("the {plain} of {}", feature.id.0),
                how: format!("State `{fact}` on {} in the plan.", feature.id.0),
            },
            ("lot", None) => Need {
                what: "the lot it stands on".to_owned(),
                how: "Draw the lot, or say `lot = ...` on the feature.".to_owned(),
            },
            _ => Need { what: plain, how: format!("State what gives `{name}`.") },
        }
    }
}

/// An amount that lacks something is not a fact.
fn known(amount: Measured) -> Option<Fact> {
    amount.needs.is_empty().then(|| Fact::Amount(Box::new(amount)))
}
