//! Lot lines whose role a row asks for and nobody stated.

use std::collections::BTreeMap;

use groundrule_packs::{Row, role_word};
use groundrule_plan::Role;
use groundrule_site::{Fact, FeatureId, Need, Site};

use crate::judge::Judged;
use crate::words;

/// The lines of every lot.
pub(crate) struct Lines {
    of: BTreeMap<FeatureId, Vec<FeatureId>>,
}

/// What the roles of lot lines say before any module is asked.
#[derive(Default)]
pub(crate) struct Sorted {
    /// Subjects to ask the module about.
    pub(crate) asked: Vec<FeatureId>,
    /// Subjects, and lines without a role, that are answered already.
    pub(crate) answered: Vec<(FeatureId, Judged)>,
}

impl Lines {
    pub(crate) fn of(site: &Site) -> Self {
        let mut of: BTreeMap<FeatureId, Vec<FeatureId>> = BTreeMap::new();
        for (id, feature) in site.features().filter(|(_, feature)| feature.kind == "lot-line") {
            if let Some(lot) = feature.lot {
                of.entry(lot).or_default().push(id);
            }
        }
        Self { of }
    }

    /// Splits the subjects of a row by whether their lot has a line of every role the row measures to.
    ///
    /// Every lot fronts something, so one without a front line lacks data. One without a line of another
    /// role lacks data only while some of its lines have no role; and such a line is named by itself even
    /// where another of the role is there, since it could be one too.
    pub(crate) fn sort(&self, row: &Row, subjects: Vec<FeatureId>, site: &Site) -> Sorted {
        let mut sorted = Sorted::default();
        let mut unsaid = BTreeMap::new();
        'subjects: for subject in subjects {
            let lot = site.feature(subject).and_then(|f| if f.kind == "lot" { Some(subject) } else { f.lot });
            let lines = lot.and_then(|lot| self.of.get(&lot)).filter(|lines| !lines.is_empty());
            let (Some(lot), Some(lines)) = (lot, lines) else {
                // Without a lot the module says itself what is lacking.
                sorted.asked.push(subject);
                continue;
            };
            for roles in row.against.values().map(|group| &group.roles).filter(|roles| !roles.is_empty()) {
                let open: Vec<FeatureId> =
                    lines.iter().copied().filter(|l| role(site, *l).is_none()).collect();
                if lines.iter().any(|line| role(site, *line).is_some_and(|role| roles.contains(&role))) {
                    unsaid.extend(open.into_iter().map(|line| (line, roles[0])));
                } else {
                    sorted.answered.push((subject, without(roles, lot, lines, &open, site)));
                    continue 'subjects;
                }
            }
            sorted.asked.push(subject);
        }
        sorted
            .answered
            .extend(unsaid.into_iter().map(|(line, _)| (line, Judged::missing(vec![role_of(line, site)]))));
        sorted
    }
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
fn role(site: &Site, line: FeatureId) -> Option<Role> {
    match site.feature(line)?.facts.get("role")? {
        Fact::Text(text) => [Role::Front, Role::Side, Role::StreetSide, Role::Rear]
            .into_iter()
            .find(|role| role_word(*role) == text),
        _ => None,
    }
}
