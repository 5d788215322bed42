//! Checking everything a module returned before anyone else sees it.

use std::collections::BTreeSet;

use groundrule_site::{Fact, Facts, FeatureId, Need};
use groundrule_units::Dimension;

use crate::bindings::{checks, types};
use crate::state::{self, State};
use crate::stop::Stop;
use crate::text::neutral;
use crate::{Answer, CheckInfo, Limits, ParameterInfo, Reading, convert, cost};

/// The longest name of a fact, parameter, group or check.
const NAME: usize = 64;

/// Units for checking so many readings.
pub(crate) fn cost_of(readings: &[checks::Reading]) -> u64 {
    let items: usize =
        readings.iter().map(|it| 1 + it.features.len() + it.marks.len() + 2 * it.facts.len()).sum();
    cost::ITEM.saturating_mul(items as u64)
}

/// The readings of a check, made harmless; an error when one cannot be used or a subject has none.
pub(crate) fn accept(
    state: &mut State,
    check: &CheckInfo,
    readings: Vec<checks::Reading>,
) -> Result<Vec<Reading>, Stop> {
    let open: BTreeSet<FeatureId> = state.task()?.subjects.iter().copied().collect();
    let mut answered = BTreeSet::new();
    let mut accepted = Vec::with_capacity(readings.len());
    for reading in readings {
        let features = features(state, &reading.features, &open)?;
        answered.extend(features.first().copied());
        accepted.push(Reading {
            features,
            answer: answer(state, check, reading.answer)?,
            marks: reading.marks.iter().map(convert::mark).collect::<Result<_, _>>()?,
            facts: facts(state, reading.facts)?,
        });
    }
    let unanswered: Vec<FeatureId> = open.difference(&answered).copied().collect();
    if unanswered.is_empty() { Ok(accepted) } else { Err(silent(state, &unanswered)) }
}

fn features(state: &State, numbers: &[u32], subjects: &BTreeSet<FeatureId>) -> Result<Vec<FeatureId>, Stop> {
    let site = state.site()?;
    let ids = numbers
        .iter()
        .map(|&number| Ok(state::feature(&site, number)?.0))
        .collect::<Result<Vec<_>, Stop>>()
        .map_err(|stop| Stop::bad_answer(stop.message))?;
    if let Some(region) = ids.iter().find(|id| site.is_region(**id)) {
        let title = site.feature(*region).map(|it| neutral(&it.title)).unwrap_or_default();
        return Err(Stop::bad_answer(format!(
            "It named a region that it had made, '{title}', in a reading; a reading names features of the plan."
        )));
    }
    match ids.first() {
        None => {
            Err(Stop::bad_answer("It gave a reading about nothing; the subject comes first in a reading."))
        }
        Some(subject) if !subjects.contains(subject) => {
            let title = site.feature(*subject).map(|it| neutral(&it.title)).unwrap_or_default();
            Err(Stop::bad_answer(format!("It answered for '{title}', which it was not asked about.")))
        }
        Some(_) => Ok(ids),
    }
}

fn answer(state: &mut State, check: &CheckInfo, answer: checks::Answer) -> Result<Answer, Stop> {
    let limits = state.limits;
    match (answer, check.dimension) {
        (checks::Answer::Amount(handle), Some(dimension)) => {
            let amount = state.take(handle)?;
            if amount.value().dimension() != dimension {
                return Err(Stop::bad_answer(format!(
                    "Check '{}' promises {} and gave {}.",
                    check.name,
                    words(dimension),
                    words(amount.value().dimension())
                )));
            }
            Ok(if amount.needs.is_empty() { Answer::Amount(amount) } else { Answer::Lacking(amount.needs) })
        }
        (checks::Answer::Amount(_), None) => Err(Stop::bad_answer(format!(
            "Check '{}' promises counts or truths and gave an amount.",
            check.name
        ))),
        (checks::Answer::Count(_) | checks::Answer::Truth(_), Some(dimension)) => Err(Stop::bad_answer(
            format!("Check '{}' promises {} and gave a count or a truth.", check.name, words(dimension)),
        )),
        (checks::Answer::Count(count), None) => Ok(Answer::Count(count)),
        (checks::Answer::Truth(truth), None) => Ok(Answer::Truth(truth)),
        (checks::Answer::Lacking(needs), _) => {
            if needs.is_empty() {
                return Err(Stop::bad_answer("It said that data is lacking without saying which."));
            }
            needs.iter().map(|need| self::need(need, &limits)).collect::<Result<_, _>>().map(Answer::Lacking)
        }
        (checks::Answer::NotApplicable(why), _) => text("A reason", &why, &limits).map(Answer::NotApplicable),
    }
}

fn need(need: &types::Need, limits: &Limits) -> Result<Need, Stop> {
    Ok(Need { what: text("A need", &need.what, limits)?, how: text("A need", &need.how, limits)? })
}

fn facts(state: &mut State, facts: Vec<(String, checks::Fact)>) -> Result<Facts, Stop> {
    let limits = state.limits;
    let mut named = Facts::new();
    for (name, fact) in facts {
        let name = fact_name(name)?;
        let fact = match fact {
            checks::Fact::Amount(handle) => Fact::Amount(Box::new(state.take(handle)?)),
            checks::Fact::Count(count) => Fact::Count(count),
            checks::Fact::Flag(flag) => Fact::Flag(flag),
            checks::Fact::Text(words) => Fact::Text(text("A fact", &words, &limits)?),
        };
        if named.insert(name.clone(), fact).is_some() {
            return Err(Stop::bad_answer(format!("It gave the fact '{name}' twice in one reading.")));
        }
    }
    Ok(named)
}

/// The name of a fact, which formulas use: lower-case letters, digits and `_`.
fn fact_name(name: String) -> Result<String, Stop> {
    let good = name.len() <= NAME
        && name.starts_with(|letter: char| letter.is_ascii_lowercase())
        && name.bytes().all(|byte| byte.is_ascii_lowercase() || byte.is_ascii_digit() || byte == b'_');
    if good {
        return Ok(name);
    }
    Err(Stop::bad_answer(format!(
        "It named a fact '{}'; names of facts are up to {NAME} lower-case letters, digits and '_'.",
        neutral(crate::text::cut(&name, NAME))
    )))
}

/// A text of a module, made harmless; an error when it is too long.
pub(crate) fn text(what: &str, text: &str, limits: &Limits) -> Result<String, Stop> {
    if text.len() > limits.text { Err(Stop::text(what, text.len(), limits)) } else { Ok(neutral(text)) }
}

/// What a module says of its checks, made harmless.
pub(crate) fn describe(checks: Vec<checks::CheckInfo>, limits: &Limits) -> Result<Vec<CheckInfo>, Stop> {
    let mut known = Vec::<CheckInfo>::with_capacity(checks.len());
    for check in checks {
        let name = label(&check.name)?;
        if known.iter().any(|other| other.name == name) {
            return Err(Stop::bad_answer(format!("It offers two checks named '{name}'.")));
        }
        known.push(CheckInfo {
            dimension: check.dimension.as_ref().map(convert::known_dimension).transpose()?,
            summary: text("A check's summary", &check.summary, limits)?,
            parameters: check
                .parameters
                .iter()
                .map(|it| {
                    Ok(ParameterInfo {
                        name: label(&it.name)?,
                        summary: text("A parameter's summary", &it.summary, limits)?,
                    })
                })
                .collect::<Result<_, Stop>>()?,
            groups: check.groups.iter().map(|group| label(group)).collect::<Result<_, _>>()?,
            name,
        });
    }
    Ok(known)
}

/// A name that packs write: of a check, a parameter or a group.
fn label(name: &str) -> Result<String, Stop> {
    let good = !name.is_empty()
        && name.len() <= NAME
        && name.bytes().all(|byte| byte.is_ascii_alphanumeric() || byte == b'-' || byte == b'_');
    if good {
        return Ok(name.to_owned());
    }
    Err(Stop::bad_answer(format!(
        "It uses the name '{}'; names are up to {NAME} letters, digits, '-' and '_'.",
        neutral(crate::text::cut(name, NAME))
    )))
}

fn words(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length => "lengths",
        Dimension::Area => "areas",
        Dimension::Volume => "volumes",
        Dimension::Angle => "angles",
        Dimension::Ratio => "ratios",
        Dimension::Flow => "flows",
        Dimension::Speed => "speeds",
        Dimension::Time => "times",
    }
}

fn silent(state: &State, unanswered: &[FeatureId]) -> Stop {
    const SHOWN: usize = 3;
    let title = |id: &FeatureId| {
        let site = state.site().ok()?;
        Some(format!("'{}'", neutral(&site.feature(*id)?.title)))
    };
    let names = unanswered.iter().take(SHOWN).filter_map(title).collect::<Vec<_>>().join(", ");
    let more = match unanswered.len().saturating_sub(SHOWN) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Stop::bad_answer(format!("It gave no answer for {names}{more}."))
}
