//! One row asked of one site: whom it is about, what the module answers, and the verdict on each answer.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use groundrule_packs::{Facts as _, Pack, Row, Selector};
use groundrule_plan::Plan;
use groundrule_sandbox::{Answer, Blame, Failure, Reading, Task};
use groundrule_site::{Fact, Facts, FeatureId, Need, Site, Terms as ErrorTerms};

use crate::classes::{Classes, Doubt};
use crate::disputed::Basis;
use crate::facts::ReadingFacts;
use crate::finding::{RuleRecord, Verdict};
use crate::judge::{Judged, Requirement, Terms, judge};
use crate::runner::CheckRunner;
use crate::{absent, roles};

/// What every row is asked with.
pub(crate) struct Ground<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) site: &'a Arc<Site>,
    pub(crate) runners: &'a [&'a dyn CheckRunner],
    /// Modules that did not load; rows that need one are listed with it.
    pub(crate) stopped: &'a [Blame],
    pub(crate) terms: Terms,
}

/// A row in its pack.
#[derive(Clone, Copy)]
pub(crate) struct Asked<'a> {
    pub(crate) pack: &'a Pack,
    pub(crate) row: &'a Row,
    pub(crate) classes: &'a Classes,
}

/// One answer with its verdict, before it is put into words.
///
/// What is large is boxed: answers are gathered, sorted and taken apart by the hundred thousand, and what is boxed
/// goes as soon as it is put into words.
pub(crate) struct Answered {
    pub(crate) reading: Box<Reading>,
    pub(crate) judged: Box<Judged>,
    /// Classes the rule hangs on here that are too close to call.
    pub(crate) doubts: Vec<String>,
    /// What decides those classes, and how well it must be known.
    pub(crate) hangs: Vec<Requirement>,
}

/// Everything one row gave.
pub(crate) struct Outcome {
    pub(crate) answered: Vec<Answered>,
    pub(crate) blame: Option<Blame>,
    pub(crate) record: RuleRecord,
}

/// Asks one row.
pub(crate) fn ask(asked: Asked<'_>, ground: &Ground<'_>) -> Outcome {
    let Asked { pack, row, .. } = asked;
    let mut record = RuleRecord { rule: row.id.clone(), pack: pack.name.clone(), subjects: 0, fuel: 0 };
    if let Some(judged) = elsewhere(row, ground.plan, ground.site) {
        return Outcome { answered: vec![without_reading(&[], judged)], blame: None, record };
    }
    let (subjects, mut answered) = subjects(asked, ground);
    let groups = match groups(asked, ground) {
        Ok(groups) => groups,
        Err(judged) if answered.is_empty() || !subjects.is_empty() => {
            answered.push(without_reading(&[], *judged));
            return Outcome { answered, blame: None, record };
        }
        Err(_) => BTreeMap::new(),
    };
    record.subjects = subjects.len();
    if subjects.is_empty() {
        return Outcome { answered, blame: None, record };
    }
    let blame = match run(row, subjects, groups, ground) {
        Ok((readings, fuel)) => {
            record.fuel = fuel;
            judge_all(asked, readings, ground, &mut answered)
        }
        Err(blame) => {
            record.fuel = blame.as_ref().and_then(|blame| blame.fuel_used).unwrap_or(0);
            blame
        }
    };
    Outcome { answered, blame, record }
}

/// The verdict of a row that is for another district, overlay or application, or that cannot know.
pub(crate) fn elsewhere(row: &Row, plan: &Plan, site: &Site) -> Option<Judged> {
    if !row.districts.is_empty() {
        let Some(district) = &plan.site.district else {
            return Some(Judged::missing(vec![Need {
                what: "the zoning district".to_owned(),
                how: "Say `district = ...` under [site].".to_owned(),
            }]));
        };
        if !row.districts.contains(district) {
            return Some(Judged::not_applicable(format!("It is for district {}.", row.districts.join(", "))));
        }
    }
    let outside = !row.overlays.is_empty() && !row.overlays.iter().any(|o| plan.site.overlays.contains(o));
    if outside {
        return Some(Judged::not_applicable(format!("It is for overlay {}.", row.overlays.join(", "))));
    }
    // A condition on the site alone is decided before anything is found lacking for a row that is not asked.
    let when = row.when.as_ref().filter(|when| when.names().all(|name| name.starts_with("site.")))?;
    let facts = ReadingFacts { site, plan: &plan.site, features: &[], reading: &Facts::new() };
    matches!(when.holds(&facts), Ok(false))
        .then(|| Judged::not_applicable(format!("It is asked only where `{}`.", when.text())))
}

/// Whom to ask the module about, and who is answered without it.
fn subjects(asked: Asked<'_>, ground: &Ground<'_>) -> (Vec<FeatureId>, Vec<Answered>) {
    let Asked { row, classes, .. } = asked;
    let site = ground.site;
    let mut early = absent::unlabelled(&row.subject, site, &classes.possible);
    let mut subjects = row.subject.select(site, &classes.possible);
    let unlabelled: BTreeSet<FeatureId> = early.iter().map(|(id, _)| *id).collect();
    subjects.retain(|subject| !unlabelled.contains(subject));
    if subjects.is_empty() && early.is_empty() {
        return (subjects, vec![without_reading(&[], absent::judge(row, &row.subject, ground.plan, site))]);
    }
    subjects.retain(|subject| {
        let doubts = classes.doubts(&row.subject, *subject);
        let needs: Vec<Need> = doubts
            .iter()
            .filter_map(|(_, doubt)| if let Doubt::Lacking(needs) = doubt { Some(needs) } else { None })
            .flatten()
            .cloned()
            .collect();
        let lacking = !needs.is_empty() && !doubts.iter().any(|(_, doubt)| matches!(doubt, Doubt::Close(_)));
        if lacking {
            early.push((*subject, Judged::missing(needs)));
        }
        !lacking
    });
    let sorted = roles::sort(row, subjects, site);
    early.extend(sorted.answered);
    (sorted.asked, early.into_iter().map(|(id, judged)| without_reading(&[id], judged)).collect())
}

/// The features of every group, or the verdict when one of them is nowhere on the plan.
fn groups(asked: Asked<'_>, ground: &Ground<'_>) -> Result<BTreeMap<String, Vec<FeatureId>>, Box<Judged>> {
    let Asked { row, classes, .. } = asked;
    let select = |(name, selector): (&String, &Selector)| {
        let features = selector.select(ground.site, &classes.possible);
        // A check with an answer for none is asked. Lines by role are settled lot by lot, before any module is asked.
        if features.is_empty() && selector.roles.is_empty() && !selector.optional {
            return Err(Box::new(absent::judge(row, selector, ground.plan, ground.site)));
        }
        Ok((name.clone(), features))
    };
    row.against.iter().map(select).collect()
}

/// Runs the row's check. No blame where the module's own failure to load already stands for it.
fn run(
    row: &Row,
    subjects: Vec<FeatureId>,
    groups: BTreeMap<String, Vec<FeatureId>>,
    ground: &Ground<'_>,
) -> Result<(Vec<Reading>, u64), Option<Blame>> {
    let (module, check) = row.check.split_once('/').unwrap_or((row.check.as_str(), ""));
    if ground.stopped.iter().any(|blame| blame.module == module && blame.rule.is_none()) {
        return Err(None);
    }
    let Some(runner) = ground.runners.iter().find(|runner| runner.name() == module) else {
        let message = format!("No module `{module}` is loaded. Add it, or take the rule out of its pack.");
        return Err(Some(blame(row, module, None, Failure::NotAModule, message)));
    };
    let version = runner.version();
    if !runner.checks().iter().any(|info| info.name == check) {
        let offered: Vec<&str> = runner.checks().iter().map(|info| info.name.as_str()).collect();
        let message = format!("It has no check `{check}`; it offers {}.", offered.join(", "));
        return Err(Some(blame(row, module, version, Failure::Refused, message)));
    }
    let task = Task {
        check: check.to_owned(),
        rule: row.id.0.clone(),
        subjects,
        groups,
        parameters: row.with.clone(),
    };
    let (readings, fuel) = runner.run(ground.site, &task).map_err(Some)?;
    let answered: BTreeSet<FeatureId> = readings.iter().filter_map(|r| r.features.first().copied()).collect();
    let wanted: BTreeSet<FeatureId> = task.subjects.iter().copied().collect();
    if let Some(odd) = wanted.symmetric_difference(&answered).next() {
        let name = ground.site.feature(*odd).map_or("a feature that is not there", |feature| &feature.id.0);
        let message = if wanted.contains(odd) {
            format!("It left {name} without an answer.")
        } else {
            format!("It answered for {name}, which it was not asked about.")
        };
        let blame = blame(row, module, version, Failure::BadAnswer, message);
        return Err(Some(Blame { fuel_used: Some(fuel), ..blame }));
    }
    Ok((readings, fuel))
}

/// Judges what the module answered. The blame is for answers that the row's limit cannot judge.
fn judge_all(
    asked: Asked<'_>,
    readings: Vec<Reading>,
    ground: &Ground<'_>,
    answered: &mut Vec<Answered>,
) -> Option<Blame> {
    let Asked { row, classes, pack } = asked;
    let mut first = None;
    for reading in readings {
        let facts = ReadingFacts {
            site: ground.site,
            plan: &ground.plan.site,
            features: &reading.features,
            reading: &reading.facts,
        };
        match judge(row, &reading, &facts, &|name| facts.need(name), ground.terms) {
            Ok(mut judged) => {
                if ground.terms.disputes {
                    judged.basis.extend(of_classes(asked, &facts).into_iter().map(Basis::from));
                }
                let (doubts, hangs) = doubts(row, classes, &reading);
                answered.push(Answered {
                    reading: Box::new(reading),
                    judged: Box::new(judged),
                    doubts,
                    hangs,
                });
            }
            Err(message) => first = first.or(Some(message)),
        }
    }
    let message = format!("Rule {} of pack {} cannot judge its answers: {}.", row.id.0, pack.name, first?);
    let module = row.check.split('/').next().unwrap_or_default();
    Some(blame(row, module, None, Failure::BadAnswer, message))
}

/// The errors of the facts that put the subject into the classes the row is for.
fn of_classes(asked: Asked<'_>, facts: &ReadingFacts<'_>) -> Vec<ErrorTerms> {
    let Asked { row, pack, .. } = asked;
    let classes = pack.classes.iter().filter(|class| row.subject.classes.contains(&class.name));
    let amounts = classes.filter_map(|class| match facts.fact(&format!("subject.{}", class.fact))? {
        Fact::Amount(amount) if !amount.terms().is_empty() => Some(amount.terms().clone()),
        _ => None,
    });
    amounts.collect()
}

/// The classes a reading hangs on that are too close to call, and what must be known to decide them.
fn doubts(row: &Row, classes: &Classes, reading: &Reading) -> (Vec<String>, Vec<Requirement>) {
    let subject = reading.features.first().into_iter().map(|id| (&row.subject, *id));
    let others =
        reading.features.iter().skip(1).flat_map(|id| row.against.values().map(|group| (group, *id)));
    let close = subject.chain(others).flat_map(|(selector, id)| classes.doubts(selector, id));
    let by_name: BTreeMap<&str, &Doubt> = close.collect();
    let hangs = by_name.values().filter_map(|doubt| match doubt {
        Doubt::Close(requirements) => Some(requirements),
        Doubt::Lacking(_) => None,
    });
    let hangs = hangs.flatten().cloned().collect();
    (by_name.into_keys().map(str::to_owned).collect(), hangs)
}

fn without_reading(features: &[FeatureId], judged: Judged) -> Answered {
    let answer = match judged.verdict {
        Verdict::Missing => Answer::Lacking(judged.needs.clone()),
        _ => Answer::NotApplicable(judged.note.clone().unwrap_or_default()),
    };
    let reading = Reading { features: features.to_vec(), answer, marks: Vec::new(), facts: Facts::new() };
    Answered { reading: Box::new(reading), judged: Box::new(judged), doubts: Vec::new(), hangs: Vec::new() }
}

fn blame(row: &Row, module: &str, version: Option<&str>, failure: Failure, message: String) -> Blame {
    Blame {
        module: module.to_owned(),
        version: version.map(str::to_owned),
        rule: Some(row.id.0.clone()),
        failure,
        message,
        fuel_used: None,
    }
}
