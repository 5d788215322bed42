//! A row with nobody to ask: not applicable only where the plan says so, missing otherwise.

use groundrule_packs::{Classed, Row, Selector};
use groundrule_plan::{Name, Plan, Presence, Status};
use groundrule_site::{FeatureId, Need, Site};

use crate::judge::Judged;
use crate::weight::should_say;
use crate::{select, words};

/// The verdict of a row that is about nothing on the plan.
pub(crate) fn no_subject(row: &Row, plan: &Plan, site: &Site) -> Judged {
    // Where a row measures to anything but lot lines, its `declared` speaks of that.
    let measured_to = row.against.values().any(|group| group.roles.is_empty());
    let subject = row.declared.as_deref().filter(|_| !measured_to);
    judge(&Absent { row, selector: &row.subject, subject, plan, site })
}

/// The verdict of a row that measures to a group of which there is nothing on the plan.
pub(crate) fn no_group(row: &Row, group: &Selector, plan: &Plan, site: &Site) -> Judged {
    judge(&Absent { row, selector: group, subject: row.declared.as_deref(), plan, site })
}

fn judge(absent: &Absent<'_>) -> Judged {
    let Absent { selector, site, .. } = *absent;
    let what = absent.what();
    if absent.declared(Presence::None) {
        return Judged::not_applicable(format!("The plan says there is none: {what}."));
    }
    let there = select::of_kind(selector, site);
    if wholly_proposed(selector) {
        return Judged::not_applicable(format!("None is proposed: {what}."));
    }
    if !there.is_empty() {
        return Judged::not_applicable(format!("None on the plan is such a case: {what}."));
    }
    let key = absent.key();
    let how = match &key {
        Some(key) if absent.declared(Presence::Shown) => {
            format!("Draw them, or correct `{key}` under [declared], which says that they are shown.")
        }
        Some(key) => format!("Draw them, or say `{key} = \"none\"` under [declared] if there are none."),
        None => "Draw them.".to_owned(),
    };
    Judged::missing(vec![Need { what, how }])
}

/// Features that a row would select if their status were known: each is missing it.
pub(crate) fn unlabelled(selector: &Selector, site: &Site, classes: &Classed) -> Vec<(FeatureId, Judged)> {
    if selector.status.is_empty() {
        return Vec::new();
    }
    // Selecting takes what is unlabelled as of any status.
    let lacking = selector.select(site, classes).into_iter().filter_map(|id| {
        let feature = site.feature(id).filter(|f| f.status.is_none() && should_say(&f.kind, site))?;
        Some((id, Judged::missing(vec![status_need(&feature.id)])))
    });
    lacking.collect()
}

fn status_need(id: &Name) -> Need {
    Need {
        what: format!("the status of {}", id.0),
        how: format!("Say `status = \"existing\"`, \"proposed\" or \"remove\" on {}.", id.0),
    }
}

/// The only work such a row is about is proposed work.
fn wholly_proposed(selector: &Selector) -> bool {
    selector.status.as_slice() == [Status::Proposed]
}

/// What a row found nothing of.
struct Absent<'a> {
    row: &'a Row,
    selector: &'a Selector,
    /// The `[declared]` subject that names what is absent.
    subject: Option<&'a str>,
    plan: &'a Plan,
    site: &'a Site,
}

impl Absent<'_> {
    /// True when the plan says so of the row's own `[declared]` subject, or of subjects that take in every
    /// kind that is absent.
    fn declared(&self, presence: Presence) -> bool {
        let says = |name: &str| {
            self.plan.declared.get(&Name(name.to_owned())).is_some_and(|said| said.presence == presence)
        };
        let own = self.row.declared.as_deref().filter(|_| presence == Presence::None).or(self.subject);
        let kinds = &self.selector.kinds;
        own.is_some_and(says)
            || (!kinds.is_empty() && kinds.iter().all(|kind| self.subjects_of(kind).into_iter().any(says)))
    }

    /// The subjects of `[declared]` that take in a kind.
    fn subjects_of(&self, kind: &str) -> Vec<&str> {
        let kinds = self.site.kinds();
        let takes_in = |wide: &String| kinds.is_a(kind, wide);
        kinds
            .subjects()
            .filter(|(_, subject)| subject.kinds.iter().any(takes_in))
            .map(|(name, _)| name)
            .collect()
    }

    /// The key of `[declared]` to answer with: the row's own, or the narrowest that takes in what is absent.
    fn key(&self) -> Option<String> {
        if let Some(subject) = self.subject {
            return Some(subject.to_owned());
        }
        let kind = self.selector.kinds.first()?;
        let depth = |name: &str| {
            let wide = &self.site.kinds().subject(name)?.kinds;
            self.site.kinds().ancestry(kind).position(|above| wide.contains(&above.name))
        };
        let narrowest = self.subjects_of(kind).into_iter().min_by_key(|name| depth(name))?;
        Some(narrowest.to_owned())
    }

    /// What is not there, in words.
    fn what(&self) -> String {
        if let Some(subject) = self.subject {
            return words::plain(subject);
        }
        let kinds: Vec<String> = self.selector.kinds.iter().map(|kind| words::plain(kind)).collect();
        if kinds.is_empty() { "anything to ask".to_owned() } else { words::list(&kinds) }
    }
}
