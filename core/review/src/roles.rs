//! Lot lines whose role a row asks for and nobody stated.

use std::collections::BTreeSet;

use groundrule_packs::{Row, role_word};
use groundrule_plan::Role;
use groundrule_site::{Fact, FeatureId, Need, Site};

use crate::judge::Judged;
use crate::words;

/// What the roles of lot lines say before any module is asked.
#[derive(Default)]
pub(crate) struct Sorted {
    /// Subjects to ask the module about.
    pub(crate) asked: Vec<FeatureId>,
    /// Subjects, and lines without a role, that are answered already.
    pub(crate) answered: Vec<(FeatureId, Judged)>,
}

/// Splits the subjects of a row by whether their lot has a line of every role the row measures to.
///
/// Every lot fronts something, so one without a front line lacks data. One without a line of another
/// role lacks data only while some of its lines have no role; and such a line is named by itself even
/// where another of the role is there, since it could be one too.
pub(crate) fn sort(row: &Row, subjects: Vec<FeatureId>, site: &Site) -> Sorted {
    let mut sorted = Sorted::default();
    let mut unsaid = BTreeSet::new();
    'subjects: for subject in subjects {
        let lot = site.feature(subject).and_then(|feature| feature.lot);
        let lines: Vec<FeatureId> = lot.into_iter().flat_map(|lot| site.lines_of(lot)).collect();
        let Some(lot) = lot.filter(|_| !lines.is_empty()) else {
            // Without a lot the module says itself what is lacking.
            sorted.asked.push(subject);
            continue;
        };
        let open: Vec<FeatureId> = lines.iter().copied().filter(|line| role(*line, site).is_none()).collect();
        for roles in row.against.values().map(|group| &group.roles).filter(|roles| !roles.is_empty()) {
            if lines.iter().any(|line| role(*line, site).is_some_and(|role| roles.contains(&role))) {
                unsaid.extend(open.iter().copied());
            } else {
                sorted.answered.push((subject, without(roles, lot, &lines, &open, site)));
                continue 'subjects;
            }
        }
        sorted.asked.push(subject);
    }
    let unsaid = unsaid.into_iter().map(|line| (line, Judged::missing(vec![role_of(line, site)])));
    sorted.answered.extend(unsaid);
    sorted
}

fn without(roles: &[Role], lot: FeatureId, lines: &[FeatureId], open: &[FeatureId], site: &Site) -> Judged {
    let wanted = words::list(&roles.iter().map(|role| words::plain(role_word(*role))).collect::<Vec<_>>());
    let lot = name(lot, site);
    if open.is_empty() && !roles.contains(&Role::Front) {
        return Judged::not_applicable(format!("{lot} has no {wanted} line."));
    }
    let sides = if open.is_empty() { lines } else { open };
    let sides = words::list(&sides.iter().map(|line| name(*line, site)).collect::<Vec<_>>());
    let word = roles.first().map_or("front", |role| role_word(*role));
    Judged::missing(vec![Need {
        what: format!("the {wanted} line of {lot}"),
        how: format!("Say `role = \"{word}\"` on a side of the lot: {sides}."),
    }])
}

fn role_of(line: FeatureId, site: &Site) -> Need {
    let line = name(line, site);
    Need {
        what: format!("the role of {line}"),
        how: format!("Say whether {line} is a front, side, street_side or rear line."),
    }
}

fn name(feature: FeatureId, site: &Site) -> String {
    site.feature(feature).map_or_else(String::new, |feature| feature.id.0.clone())
}

/// The role a lot line states.
fn role(line: FeatureId, site: &Site) -> Option<Role> {
    match site.feature(line)?.facts.get("role")? {
        Fact::Text(text) => [Role::Front, Role::Side, Role::StreetSide, Role::Rear]
            .into_iter()
            .find(|role| role_word(*role) == text),
        _ => None,
    }
}
