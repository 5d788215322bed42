//! A row with nobody to ask: not applicable only where the plan says so, missing otherwise.

use groundrule_packs::{Row, Selector};
use groundrule_plan::{Name, Plan, Presence, Status};
use groundrule_site::{FeatureId, Need, Site};

use crate::judge::Judged;
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
    if wholly_proposed(selector) && there.iter().all(|id| status(*id, site).is_some()) {
        return Judged::not_applicable(format!("None is proposed: {what}."));
    }
    if !there.is_empty() {
        return Judged::not_applicable(format!("None on the plan is such a case: {what}."));
    }
    let key = absent.subject.map_or_else(
        || key(selector.kinds.first().map_or("site", String::as_str)),
        str::to_owned,
    );
    Judged::missing(vec![if absent.declared(Presence::Shown) {
        Need {
            what: format!("{what}, which the plan says are shown"),
            how: format!("Draw them, or correct `{key}` under [declared]."),
        }
    } else {
        Need { what, how: format!("Draw them, or say `{key} = \"none\"` under [declared] if there are none.") }
    }])
}

/// Features that a row would select if their status were known: each is missing it.
pub(crate) fn unlabelled(selector: &Selector, site: &Site) -> Vec<(FeatureId, Judged)> {
    if selector.status.is_empty() {
        return Vec::new();
    }
    let lacking = select::of_kind(selector, site).into_iter().filter(|id| status(*id, site).is_none());
    lacking.filter_map(|id| Some((id, Judged::missing(vec![status_need(&site.feature(id)?.id)])))).collect()
}

fn status_need(id: &Name) -> Need {
    Need {
        what: format!("the status of {}", id.0),
        how: format!("Say `status = \"existing\"`, \"proposed\" or \"remove\" on {}.", id.0),
    }
}

fn status(feature: FeatureId, site: &Site) -> Option<Status> {
    site.feature(feature)?.status
}

/// The only work such a row is about is proposed work.
fn wholly_proposed(selector: &Selector) -> bool {
    selector.status.as_slice() == [Status::Proposed]
}

/// A kind as a key of the plan.
fn key(kind: &str) -> String {
    kind.replace('-', "_")
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
    /// True when the plan says so of the row's own `[declared]` subject, or of every kind that is absent or
    /// an ancestor of it.
    fn declared(&self, presence: Presence) -> bool {
        let says = |name: &str| {
            self.plan.declared.get(&Name(name.to_owned())).is_some_and(|said| said.presence == presence)
        };
        let kind_says = |kind: &String| {
            says(&key(kind)) || self.site.kinds().ancestry(kind).any(|ancestor| says(&key(&ancestor.name)))
        };
        let own = self.row.declared.as_deref().filter(|_| presence == Presence::None).or(self.subject);
        own.is_some_and(says) || (!self.selector.kinds.is_empty() && self.selector.kinds.iter().all(kind_says))
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
