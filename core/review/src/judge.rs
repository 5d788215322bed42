//! One reading against one row: the verdict.

use groundrule_packs::{Exception, Facts, Formula, Limit, Provenance, Row, Sense};
use groundrule_sandbox::{Answer, Reading};
use groundrule_site::{Fact, Measured, Need, Terms as ErrorTerms};
use groundrule_units::{Quantity, Ratio, Style};

use crate::bound::{Figure, Figures, Unset, figures, unset};
use crate::compare::{Comparison, Form, Settling, verdict};
use crate::conformity::Level;
use crate::disputed::{Basis, Turns};
use crate::finding::{Required, Verdict};
use crate::words;

/// How a reading is judged.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Terms {
    pub(crate) level: Level,
    pub(crate) style: Style,
    /// True when a measurement of the plan is in dispute, so that verdicts must know all they rest on.
    pub(crate) disputes: bool,
}

/// What a verdict needs before it can be given: an amount known so well.
#[derive(Clone, Debug)]
pub(crate) struct Requirement {
    /// The errors of the amount.
    pub(crate) terms: ErrorTerms,
    /// The standard uncertainty that may be left, should the value hold.
    pub(crate) holding: f64,
    /// The standard uncertainty to ask for when it is measured again.
    pub(crate) asked: f64,
}

impl Requirement {
    /// Everything the amount rests on must be known; how well is not worked out, so four times as well is asked
    /// for, as of a value that stands at its limit.
    pub(crate) fn exact(terms: ErrorTerms) -> Self {
        let spread = libm::sqrt(terms.iter().map(|(_, term)| term * term).sum());
        Self { terms, holding: 0.0, asked: spread / 4.0 }
    }
}

/// What measuring again would have to reach for a verdict.
#[derive(Clone, Debug)]
pub(crate) struct Open {
    /// Value against limit, with the errors of both.
    pub(crate) room: Measured,
    /// What is enough; none when no accuracy is.
    pub(crate) enough: Option<Settling>,
}

/// A judged reading.
#[derive(Clone, Debug)]
pub(crate) struct Judged {
    pub(crate) verdict: Verdict,
    pub(crate) conformity: Option<Ratio>,
    pub(crate) required: Option<Required>,
    /// How far the value lies from the limit, whichever side.
    pub(crate) lack: Option<Quantity>,
    pub(crate) needs: Vec<Need>,
    pub(crate) note: Option<String>,
    /// The exception's own source and place, where one governs.
    pub(crate) authority: Option<(String, Provenance)>,
    /// Set on `verify` alone.
    pub(crate) open: Option<Box<Open>>,
    /// All that must be known for a verdict; of `verify` alone.
    pub(crate) requirements: Vec<Requirement>,
    /// The errors of every amount the verdict rests on; gathered only where a measurement is in dispute.
    pub(crate) basis: Vec<Basis>,
    /// Measurements in dispute that the verdict rests on, by their index in the plan.
    pub(crate) disputed: Vec<u32>,
}

impl Judged {
    pub(crate) fn plain(verdict: Verdict) -> Self {
        Self {
            verdict,
            conformity: None,
            required: None,
            lack: None,
            needs: Vec::new(),
            note: None,
            authority: None,
            open: None,
            requirements: Vec::new(),
            basis: Vec::new(),
            disputed: Vec::new(),
        }
    }

    pub(crate) fn missing(needs: Vec<Need>) -> Self {
        Self { needs, ..Self::plain(Verdict::Missing) }
    }

    pub(crate) fn not_applicable(why: impl Into<String>) -> Self {
        Self { note: Some(why.into()), ..Self::plain(Verdict::NotApplicable) }
    }
}

/// Judges a reading. The error is the pack's or the module's fault and says whose.
pub(crate) fn judge(
    row: &Row,
    reading: &Reading,
    facts: &dyn Facts,
    need: &dyn Fn(&str) -> Need,
    terms: Terms,
) -> Result<Judged, String> {
    if let Answer::NotApplicable(why) = &reading.answer {
        return Ok(Judged::not_applicable(why));
    }
    let lacking = lacking(&reading.answer)?;
    let (cases, conditions) = match cases(row, facts, terms.disputes) {
        Ok(cases) => cases,
        Err(Unset::Lacking(names)) if lacking.is_some() => {
            // What the module says is lacking explains the facts it could not give.
            let stated = names.iter().filter(|name| !name.starts_with("reading.")).map(|name| need(name));
            return Ok(Judged::missing(lacking.into_iter().flatten().cloned().chain(stated).collect()));
        }
        Err(unset) => return settle_unset(unset, need),
    };
    if let (Some(needs), true) = (lacking, cases.iter().any(|case| case.limit.is_some())) {
        return Ok(Judged::missing(needs.to_vec()));
    }
    let mut judged = Vec::with_capacity(cases.len());
    for case in &cases {
        judged.push(match case.limit {
            Some(limit) => {
                let judged = against(limit, &reading.answer, facts, need, terms)?;
                Judged { authority: case.authority(), note: judged.note.or_else(|| case.note()), ..judged }
            }
            None => Judged { authority: case.authority(), ..Judged::not_applicable(case.lifted()) },
        });
    }
    Ok(agree(judged, cases.iter().position(|case| case.held).unwrap_or(0), conditions))
}

/// What an answer lacks, if it does; an error if it is no number.
fn lacking(answer: &Answer) -> Result<Option<&[Need]>, String> {
    match answer {
        Answer::Lacking(needs) => Ok(Some(needs)),
        Answer::Amount(amount) if !amount.needs.is_empty() => Ok(Some(&amount.needs)),
        Answer::Amount(amount) if !(amount.value().si() + amount.spread().si()).is_finite() => {
            Err("the measured amount is not a number".to_owned())
        }
        _ => Ok(None),
    }
}

/// A limit that may govern.
struct Case<'a> {
    /// None lifts the rule.
    limit: Option<&'a Limit>,
    exception: Option<&'a Exception>,
    /// True for the one that governs at the best values.
    held: bool,
}

impl Case<'_> {
    fn authority(&self) -> Option<(String, Provenance)> {
        self.exception.map(|exception| (exception.citation.clone(), exception.provenance.clone()))
    }

    fn note(&self) -> Option<String> {
        let when = self.exception?.when.text();
        Some(format!("The limit is that of the exception where `{when}`."))
    }

    fn lifted(&self) -> String {
        match self.exception {
            Some(exception) => format!("An exception lifts the rule where `{}`.", exception.when.text()),
            None => "The row is not for it.".to_owned(),
        }
    }
}

/// The errors of the amounts that conditions hang on.
#[derive(Default)]
struct Conditions {
    /// Of conditions too close to call.
    close: Vec<ErrorTerms>,
    /// Of the others, where somebody asks.
    plain: Vec<Basis>,
}

impl Conditions {
    fn add(&mut self, when: &Formula, settled: bool, facts: &dyn Facts) {
        let terms = |name: &str| match facts.fact(name) {
            Some(Fact::Amount(amount)) if !amount.terms().is_empty() => Some(amount.terms().clone()),
            _ => None,
        };
        if !settled {
            self.close.extend(when.names().filter_map(terms));
            return;
        }
        // What cannot change the answer is no basis of it.
        let leeway = when.leeway(facts).unwrap_or_default().into_iter();
        self.plain.extend(
            leeway.filter_map(|(name, by)| Some(Basis { terms: terms(&name)?, turns: Turns::Within(by) })),
        );
    }
}

/// The least figure a row's limit asks for where `facts` hold, exceptions taken in; none where the row is not for it or
/// falls away.
pub(crate) fn least(row: &Row, facts: &dyn Facts, style: Style) -> Result<Option<Measured>, Unset> {
    let cases = match cases(row, facts, false) {
        Ok((cases, _)) => cases,
        Err(Unset::NotForIt(_)) => return Ok(None),
        Err(unset) => return Err(unset),
    };
    let Some(limit) = cases.iter().find(|case| case.held).and_then(|case| case.limit) else {
        return Ok(None);
    };
    match figures(limit, facts, style) {
        Ok(Figures { bound: Figure::Amount(amount, _), .. }) => Ok(Some(*amount)),
        Ok(_) | Err(Unset::NotForIt(_)) => Ok(None),
        Err(unset) => Err(unset),
    }
}

/// Every limit that may govern: one where all conditions are plain, more where a condition on a measured
/// amount is itself too close to call. With `all`, plain conditions too say what they hang on.
fn cases<'a>(row: &'a Row, facts: &dyn Facts, all: bool) -> Result<(Vec<Case<'a>>, Conditions), Unset> {
    let mut cases = Vec::new();
    let mut conditions = Conditions::default();
    if let Some(when) = &row.when {
        let holds = when.holds(facts).map_err(|error| unset(when, facts, error))?;
        let settled = when.settled(facts).map_err(|error| unset(when, facts, error))?;
        if all || !settled {
            conditions.add(when, settled, facts);
        }
        if settled && !holds {
            return Err(Unset::NotForIt(format!("It is asked only where `{}`.", when.text())));
        }
        if !settled {
            cases.push(Case { limit: None, exception: None, held: !holds });
        }
    }
    for exception in &row.exceptions {
        let when = &exception.when;
        let holds = when.holds(facts).map_err(|error| unset(when, facts, error))?;
        let settled = when.settled(facts).map_err(|error| unset(when, facts, error))?;
        if all || !settled {
            conditions.add(when, settled, facts);
        }
        if holds || !settled {
            let held = holds && cases.iter().all(|case: &Case<'_>| !case.held);
            cases.push(Case { limit: exception.limit.as_ref(), exception: Some(exception), held });
        }
        if holds && settled {
            return Ok((cases, conditions));
        }
    }
    let held = cases.iter().all(|case| !case.held);
    cases.push(Case { limit: Some(&row.limit), exception: None, held });
    Ok((cases, conditions))
}

/// One verdict from the cases that may govern: theirs if they agree, `verify` if they do not.
fn agree(mut judged: Vec<Judged>, governing: usize, conditions: Conditions) -> Judged {
    let same = judged.iter().all(|other| other.verdict == judged[governing].verdict);
    let mut one = judged.swap_remove(governing);
    // Whichever case turns out to govern must have its own verdict.
    for other in judged {
        one.requirements.extend(other.requirements);
        one.basis.extend(other.basis);
    }
    one.basis.extend(conditions.plain);
    one.basis.extend(conditions.close.iter().cloned().map(Basis::from));
    if !same && one.verdict != Verdict::Missing {
        one.verdict = Verdict::Verify;
        one.requirements.extend(conditions.close.into_iter().map(Requirement::exact));
        // Measuring the value better would not settle the condition.
        one.open = None;
        let close = "Whether its condition holds is too close to call at this accuracy.";
        one.note = Some(one.note.map_or_else(|| close.to_owned(), |note| format!("{note} {close}")));
    }
    one
}

/// An answer against one limit, whatever row or class it belongs to.
pub(crate) fn against(
    limit: &Limit,
    answer: &Answer,
    facts: &dyn Facts,
    need: &dyn Fn(&str) -> Need,
    terms: Terms,
) -> Result<Judged, String> {
    let figures = match figures(limit, facts, terms.style) {
        Ok(figures) => figures,
        Err(unset) => return settle_unset(unset, need),
    };
    match answer {
        Answer::Amount(amount) => amount_against(limit.sense, &figures, amount, terms),
        Answer::Count(count) => count_against(limit.sense, &figures, *count),
        Answer::Truth(truth) => truth_against(limit.sense, *truth),
        Answer::Lacking(_) | Answer::NotApplicable(_) => Err("an answer without a figure".to_owned()),
    }
}

fn amount_against(
    sense: Sense,
    figures: &Figures,
    amount: &Measured,
    terms: Terms,
) -> Result<Judged, String> {
    let Figure::Amount(bound, _) = &figures.bound else {
        return Err("the check measures an amount, and the limit is none".to_owned());
    };
    let upper = match &figures.upper {
        Some(Figure::Amount(upper, _)) => Some(upper.as_ref()),
        None => None,
        Some(_) => return Err("the upper bound of a range must be an amount".to_owned()),
    };
    let room = |bound: &Measured| match sense {
        Sense::AtMost | Sense::LessThan => difference(bound, amount),
        Sense::AtLeast | Sense::MoreThan | Sense::Between => difference(amount, bound),
        Sense::Holds | Sense::HoldsNot => Err("the check measures an amount, not a yes or no".to_owned()),
    };
    let mut forms =
        vec![Form::new(sense, room(bound)?, upper.map(|upper| difference(upper, amount)).transpose()?)];
    if let Some(also) = &figures.also {
        forms.push(Form::new(sense, room(&Measured::exact(also.value))?, None));
    }
    let comparison = Comparison::new(forms);
    let conformity = comparison.conformity();
    let verdict = verdict(conformity, terms.level);
    let room = comparison.deciding().and_then(Form::tightest).map(|side| side.room.clone());
    let lack = room.as_ref().map(|room| Quantity::new(room.value().dimension(), room.value().si().abs()));
    let rests_on =
        |room: &Measured| Basis { terms: room.terms().clone(), turns: Turns::Past(room.value().si()) };
    let basis = room.iter().filter(|_| terms.disputes).map(rests_on).collect();
    let open = room
        .filter(|_| verdict == Verdict::Verify)
        .map(|room| Box::new(Open { room, enough: comparison.settling(terms.level) }));
    let requirements = open.iter().map(|open| Requirement {
        terms: open.room.terms().clone(),
        holding: open.enough.map_or(0.0, |enough| enough.holding),
        asked: open.enough.map_or(0.0, |enough| enough.spread),
    });
    Ok(Judged {
        requirements: requirements.collect(),
        basis,
        conformity: Some(conformity.0),
        required: Some(words::required(sense, figures)),
        lack,
        open,
        ..Judged::plain(verdict)
    })
}

/// Counts are exact, and so is their comparison.
fn count_against(sense: Sense, figures: &Figures, count: u32) -> Result<Judged, String> {
    let number = |figure: &Figure| match figure {
        Figure::Count(limit) => Ok(f64::from(*limit)),
        Figure::Amount(amount, _) => {
            amount.value().ratio().map(Ratio::fraction).ok_or("the check counts, and the limit is no number")
        }
        Figure::None => Err("the check counts, and the limit has no figure"),
    };
    let (count, bound) = (f64::from(count), number(&figures.bound)?);
    let met = match sense {
        Sense::AtLeast => count >= bound,
        Sense::MoreThan => count > bound,
        Sense::AtMost => count <= bound,
        Sense::LessThan => count < bound,
        Sense::Between => {
            let upper = figures.upper.as_ref().map(number).transpose()?.unwrap_or(bound);
            bound <= count && count <= upper
        }
        Sense::Holds | Sense::HoldsNot => {
            return Err("the check counts, and the limit is a yes or no".to_owned());
        }
    };
    Ok(Judged { required: Some(words::required(sense, figures)), ..Judged::plain(met_or_not(met)) })
}

/// A bare truth is a stated fact, and exact.
fn truth_against(sense: Sense, truth: bool) -> Result<Judged, String> {
    let asked = match sense {
        Sense::Holds => true,
        Sense::HoldsNot => false,
        _ => return Err("the check answers yes or no, and the limit is a figure".to_owned()),
    };
    let text = words::yes_or_no(asked).to_owned();
    let required = Required { sense, text, value: None, upper: None, said: None };
    Ok(Judged { required: Some(required), ..Judged::plain(met_or_not(truth == asked)) })
}

const fn met_or_not(met: bool) -> Verdict {
    if met { Verdict::Meets } else { Verdict::Fails }
}

fn settle_unset(unset: Unset, need: &dyn Fn(&str) -> Need) -> Result<Judged, String> {
    match unset {
        Unset::Lacking(names) => Ok(Judged::missing(names.iter().map(|name| need(name)).collect())),
        Unset::NotForIt(why) => Ok(Judged::not_applicable(why)),
        Unset::Broken(message) => Err(message),
    }
}

fn difference(a: &Measured, b: &Measured) -> Result<Measured, String> {
    a.subtract(b).map_err(|error| error.to_string())
}
