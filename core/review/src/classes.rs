//! Classes of subjects, decided once for each pack so that all its rules agree.

use std::collections::BTreeMap;

use groundrule_packs::{Class, Classed, Facts, Pack, Selector};
use groundrule_plan::SiteFacts;
use groundrule_sandbox::Answer;
use groundrule_site::{Fact, FeatureId, Need, Site};

use crate::facts::ReadingFacts;
use crate::finding::Verdict;
use crate::judge::{Requirement, Terms, against};

/// Why it is open whether a feature is of a class.
#[derive(Clone, Debug)]
pub(crate) enum Doubt {
    /// The fact that decides is too close to the class's limit; it must be known so well.
    Close(Vec<Requirement>),
    /// The fact that decides is not stated.
    Lacking(Vec<Need>),
}

/// The classes of one pack.
#[derive(Clone, Debug, Default)]
pub(crate) struct Classes {
    /// What is of a class or may be, for selecting.
    pub(crate) possible: Classed,
    open: BTreeMap<FeatureId, BTreeMap<String, Doubt>>,
}

impl Classes {
    /// The classes a selector asks for that this feature may be of, each with the reason it is open; none
    /// when the feature is plainly of one of them.
    pub(crate) fn doubts<'a>(
        &'a self,
        selector: &'a Selector,
        feature: FeatureId,
    ) -> Vec<(&'a str, &'a Doubt)> {
        let Some(open) = self.open.get(&feature) else {
            return Vec::new();
        };
        let plain = |class: &String| self.possible.holds(class, feature) && !open.contains_key(class);
        if selector.classes.iter().any(plain) {
            return Vec::new();
        }
        selector.classes.iter().filter_map(|c| open.get_key_value(c)).map(|(c, d)| (c.as_str(), d)).collect()
    }
}

/// Decides every class of a pack for every feature it is asked of. The errors are the pack's.
pub(crate) fn decide(pack: &Pack, site: &Site, plan: &SiteFacts, terms: Terms) -> (Classes, Vec<String>) {
    let mut classes = Classes::default();
    let mut broken = Vec::new();
    for class in &pack.classes {
        for feature in class.subject.select(site, &Classed::default()) {
            match membership(class, feature, site, plan, terms) {
                Ok(Membership::In) => classes.possible.put(&class.name, feature),
                Ok(Membership::Out) => {}
                Ok(Membership::Open(doubt)) => {
                    classes.possible.put(&class.name, feature);
                    classes.open.entry(feature).or_default().insert(class.name.clone(), doubt);
                }
                Err(message) => {
                    broken.push(format!("class `{}` of pack `{}`: {message}", class.name, pack.name));
                    break;
                }
            }
        }
    }
    (classes, broken)
}

enum Membership {
    In,
    Out,
    Open(Doubt),
}

fn membership(
    class: &Class,
    feature: FeatureId,
    site: &Site,
    plan: &SiteFacts,
    terms: Terms,
) -> Result<Membership, String> {
    let facts = ReadingFacts { site, plan, features: &[feature], reading: &groundrule_site::Facts::new() };
    let name = format!("subject.{}", class.fact);
    let answer = match facts.fact(&name) {
        Some(Fact::Amount(amount)) => Answer::Amount(*amount),
        Some(Fact::Count(count)) => Answer::Count(count),
        Some(Fact::Flag(flag)) => Answer::Truth(flag),
        Some(Fact::Amounts(_)) => {
            return Err(format!("`{}` is a list of lengths, which no limit compares", class.fact));
        }
        Some(Fact::Text(_)) => return Err(format!("`{}` is words, which no limit compares", class.fact)),
        None => return Ok(Membership::Open(Doubt::Lacking(vec![facts.need(&name)]))),
    };
    let judged = against(&class.limit, &answer, &facts, &|name| facts.need(name), terms)?;
    Ok(match judged.verdict {
        Verdict::Meets | Verdict::Accepted => Membership::In,
        Verdict::Fails | Verdict::NotApplicable => Membership::Out,
        Verdict::Verify => Membership::Open(Doubt::Close(judged.requirements)),
        Verdict::Missing => Membership::Open(Doubt::Lacking(judged.needs)),
    })
}
