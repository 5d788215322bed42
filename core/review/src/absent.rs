//! A row with nobody to ask: not applicable only where the plan says so, missing otherwise.

use groundrule_packs::{Classed, Row, Selector};
use groundrule_plan::{Name, Plan, Presence, Status};
use groundrule_site::{FeatureId, Need, Site};

use crate::judge::Judged;
use crate::weight::should_say;
use crate::words;

/// The verdict of a row for which `selector`, its subject or a group it measures to, selects nothing.
pub(crate) fn judge(row: &Row, selector: &Selector, plan: &Plan, site: &Site) -> Judged {
    let absent = Absent { row, selector, plan, site };
    let what = absent.what();
    if absent.declared() {
        return Judged::not_applicable(format!("By what the plan declares there is none: {what}."));
    }
    if selector.status.as_slice() == [Status::Proposed] {
        return Judged::not_applicable(format!("None is proposed: {what}."));
    }
    if site.features().any(|(_, feature)| is_any(site, &feature.kind, &selector.kinds)) {
        return Judged::not_applicable(format!("None on the plan is such a case: {what}."));
    }
    Judged::missing(vec![Need { what: format!("the presence of any {what}"), how: absent.how() }])
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

/// True for a kind that is one of these or stands below one.
fn is_any(site: &Site, kind: &str, kinds: &[String]) -> bool {
    kinds.iter().any(|wide| site.kinds().is_a(kind, wide))
}

/// What a row found nothing of.
struct Absent<'a> {
    row: &'a Row,
    selector: &'a Selector,
    plan: &'a Plan,
    site: &'a Site,
}

impl Absent<'_> {
    /// The row's own `[declared]` subject where it is about what is absent, or where that hangs on it: without a pool
    /// nobody need say which doors lead to it.
    fn subject(&self) -> Option<&str> {
        let own = self.row.declared.as_deref()?;
        let kinds = self.site.kinds();
        let meets = |kind: &String, other: &String| kinds.is_a(kind, other) || kinds.is_a(other, kind);
        let about = |kind: &String| self.selector.kinds.iter().any(|absent| meets(kind, absent));
        let names = kinds.subject(own).is_some_and(|subject| subject.kinds.iter().any(about));
        (names || !self.drawn(own)).then_some(own)
    }

    /// True when the plan declares that there is nothing of the row's own `[declared]` subject, or of every
    /// kind that is absent.
    fn declared(&self) -> bool {
        let kinds = &self.selector.kinds;
        let none = |kind: &String| self.subjects_of(kind).into_iter().any(|subject| self.says_none(subject));
        self.row.declared.as_deref().is_some_and(|own| self.said(own) == Some(Presence::None))
            || self.subject().is_some_and(|subject| self.says_none(subject))
            || (!kinds.is_empty() && kinds.iter().all(none))
    }

    /// A subject says there is nothing of a kind by `none`, or by `shown` while others of it are drawn.
    fn says_none(&self, subject: &str) -> bool {
        match self.said(subject) {
            Some(Presence::None) => true,
            Some(Presence::Shown) => self.drawn(subject),
            Some(Presence::Unknown) | None => false,
        }
    }

    fn said(&self, subject: &str) -> Option<Presence> {
        self.plan.declared.get(&Name(subject.to_owned())).map(|said| said.presence)
    }

    /// True when something of a subject is on the plan.
    fn drawn(&self, subject: &str) -> bool {
        let Some(subject) = self.site.kinds().subject(subject) else { return false };
        self.site.features().any(|(_, feature)| is_any(self.site, &feature.kind, &subject.kinds))
    }

    fn how(&self) -> String {
        let Some(key) = self.key() else { return "Draw it on the plan.".to_owned() };
        if self.said(&key) == Some(Presence::Shown) {
            return format!("Draw it, or correct `{key}` under [declared], which says that all are shown.");
        }
        let word = if self.drawn(&key) { "shown" } else { "none" };
        format!("Draw it, or say `{key} = \"{word}\"` under [declared] if there is none.")
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
        if let Some(subject) = self.subject() {
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
        if let Some(subject) = self.subject() {
            return words::plain(subject);
        }
        let kinds: Vec<String> = self.selector.kinds.iter().map(|kind| words::plain(kind)).collect();
        if kinds.is_empty() { "anything to ask".to_owned() } else { words::list(&kinds) }
    }
}
