//! An answer with its verdict to a whole finding, in words.

use std::sync::Arc;

use groundrule_packs::{Pack, Placeholder, Row, Sense, Weight, fill_message};
use groundrule_plan::{Name, Plan, Span};
use groundrule_sandbox::{Answer, Reading};
use groundrule_site::{Fact, Feature, Site};
use groundrule_survey::Layout;
use groundrule_units::{Quantity, Style, show, show_with_spread};

use crate::draft::Draft;
use crate::finding::{Beside, Citation, Finding, Required, Shown, Verdict};
use crate::judge::{Judged, Open};
use crate::{listed, retake, weight, words};

/// The plus-or-minus that holds 95 times in a hundred, over the standard uncertainty.
pub(crate) const HALF_WIDTH: f64 = 1.959_963_984_540_054;

/// Where findings find what to call things.
#[derive(Clone, Copy)]
pub(crate) struct Scene<'a> {
    pub(crate) plan: &'a Plan,
    pub(crate) layout: &'a Layout,
    pub(crate) site: &'a Site,
    pub(crate) style: Style,
}

/// What all findings on one row share.
pub(crate) struct RowWords<'a> {
    row: &'a Row,
    pack: Arc<str>,
    title: Arc<str>,
    why: Arc<str>,
    citation: Arc<Citation>,
}

impl<'a> RowWords<'a> {
    pub(crate) fn new(row: &'a Row, pack: &Pack) -> Self {
        Self {
            row,
            pack: pack.name.as_str().into(),
            title: row.title.as_str().into(),
            why: row.why.as_str().into(),
            citation: Arc::new(Citation {
                source: row.citation.clone(),
                section: row.section.clone(),
                standing: row.standing,
                provenance: row.provenance.clone(),
            }),
        }
    }

    /// The finding a draft makes; it has no number yet.
    pub(crate) fn finding(&self, draft: Draft<'_>, scene: Scene<'_>) -> Finding {
        let Scene { site, style, .. } = scene;
        let (reading, mut judged) = (*draft.answered.reading, *draft.answered.judged);
        if let Some(required) = judged.required.as_mut().filter(|required| asks_nothing(required)) {
            required.said = worded(&reading, ZERO_AS).map(str::to_owned);
        }
        let features: Vec<&Feature> = reading.features.iter().filter_map(|id| site.feature(*id)).collect();
        let (weight, status) =
            weight::of_finding(self.row, draft.weight, judged.verdict, &reading.features, site);
        let said =
            Said { row: self.row, reading: &reading, judged: &judged, features: &features, scene, style };
        let (message, action) = (said.message(), said.action(weight));
        let in_dispute = said.in_dispute();
        // Why the question does not arise is the message itself.
        let own = judged.note.iter().filter(|_| judged.verdict != Verdict::NotApplicable).cloned();
        let notes: Vec<String> = own.chain(status.map(str::to_owned)).chain(assumed(&features)).collect();
        let citation = self.citation(&judged);
        let names = features.iter().map(|feature| feature.id.clone()).collect();
        let place = words::place(&features);
        let span = features.first().map_or(Span::default(), |feature| feature.span);
        let answer = worded(&reading, SHOWN_AS).map(str::to_owned).or_else(|| counted(&reading.answer));
        let (beside, listed) = (beside(&reading), listed::listed(&reading));
        let measured = match reading.answer {
            Answer::Amount(amount) => Some(amount),
            _ => None,
        };
        Finding {
            id: draft.id,
            number: None,
            rule: self.row.id.clone(),
            pack: Arc::clone(&self.pack),
            title: Arc::clone(&self.title),
            verdict: judged.verdict,
            weight,
            features: reading.features,
            names,
            place,
            shown: measured.as_ref().map(|m| Shown { value: m.value(), spread: m.spread() }),
            marks: measured.iter().flat_map(|m| &m.marks).chain(&reading.marks).cloned().collect(),
            measured,
            beside,
            listed,
            answer,
            required: judged.required,
            conformity: judged.conformity,
            needs: judged.needs,
            citation,
            why: Arc::clone(&self.why),
            message,
            action,
            referral: self.row.referral.clone(),
            in_dispute,
            note: (!notes.is_empty()).then(|| notes.join(" ")),
            span,
        }
    }

    /// The row's own authority, or that of the exception that governs.
    fn citation(&self, judged: &Judged) -> Arc<Citation> {
        let Some((source, provenance)) = &judged.authority else {
            return Arc::clone(&self.citation);
        };
        Arc::new(Citation {
            source: source.clone(),
            section: None,
            standing: self.row.standing,
            provenance: provenance.clone(),
        })
    }
}

/// Lot lines whose role the program proposed and nobody confirmed.
fn assumed(features: &[&Feature]) -> Option<String> {
    let assumed = |feature: &&&Feature| feature.facts.get("assumed") == Some(&Fact::Flag(true));
    let lines: Vec<String> = features.iter().filter(assumed).map(|feature| words::called(feature)).collect();
    (!lines.is_empty()).then(|| format!("Its role is assumed, not stated: {}.", words::list(&lines)))
}

/// The amounts among the facts of a reading.
fn beside(reading: &Reading) -> Vec<Beside> {
    let amounts = reading.facts.iter().filter_map(|(name, fact)| match fact {
        Fact::Amount(amount) if amount.needs.is_empty() && !listed::is_listed(name) => Some((name, amount)),
        _ => None,
    });
    amounts
        .map(|(name, amount)| Beside {
            what: words::plain(name),
            shown: Shown { value: amount.value(), spread: amount.spread() },
        })
        .collect()
}

/// True where the amount is a margin that a check has words for.
fn is_margin(reading: &Reading, open: &Open) -> bool {
    worded(reading, SHOWN_AS).is_some() && open.room.value().ratio().is_some()
}

/// The fact by which a check says in words what it found.
const SHOWN_AS: &str = "shown_as";
/// The fact by which a check says in words what a limit of zero asks.
const ZERO_AS: &str = "zero_as";

fn worded<'a>(reading: &'a Reading, name: &str) -> Option<&'a str> {
    match reading.facts.get(name) {
        Some(Fact::Text(words)) => Some(words),
        _ => None,
    }
}

fn asks_nothing(required: &Required) -> bool {
    match required.value {
        Some(value) => value.si() == 0.0 && required.upper.is_none(),
        None => required.text == "0",
    }
}

fn counted(answer: &Answer) -> Option<String> {
    match answer {
        Answer::Count(count) => Some(count.to_string()),
        Answer::Truth(truth) => Some(words::yes_or_no(*truth).to_owned()),
        _ => None,
    }
}

/// What one finding says.
struct Said<'a> {
    row: &'a Row,
    reading: &'a Reading,
    judged: &'a Judged,
    features: &'a [&'a Feature],
    scene: Scene<'a>,
    style: Style,
}

impl Said<'_> {
    fn message(&self) -> String {
        let (judged, place, shown, limit) = (self.judged, self.place(), self.shown(), self.limit());
        match judged.verdict {
            Verdict::Fails if !self.row.message.is_empty() => {
                fill_message(&self.row.message, |place| self.placed(place))
            }
            Verdict::Fails | Verdict::Accepted | Verdict::Meets => {
                format!("{place}: {shown} shown, {limit} asked for.")
            }
            Verdict::Verify if judged.open.is_some() => {
                format!("{place}: {shown} shown, {limit} asked for; too close to call at this accuracy.")
            }
            Verdict::Verify if !judged.disputed.is_empty() => {
                format!("{place}: {shown} shown, {limit} asked for; it rests on what does not add up.")
            }
            Verdict::Verify => {
                format!("{place}: {shown} shown, {limit} asked for; which rule applies is too close to call.")
            }
            Verdict::Missing => format!("{place}: not judged without knowing {}.", self.lack()),
            Verdict::NotApplicable => {
                judged.note.clone().unwrap_or_else(|| "The question does not arise.".to_owned())
            }
        }
    }

    fn action(&self, weight: Weight) -> String {
        let judged = self.judged;
        match judged.verdict {
            // A row that only notes has its own advice.
            Verdict::Fails if self.row.weight == Weight::Noted && self.row.relief.is_some() => {
                self.row.relief.clone().unwrap_or_default()
            }
            Verdict::Fails if weight == Weight::Noted => {
                "Nothing is asked of it as it stands; ask before working on it.".to_owned()
            }
            Verdict::Fails => {
                let relief = self.row.relief.as_deref().map_or(String::new(), |relief| format!(" {relief}"));
                match (weight, judged.required.as_ref().map(|required| required.sense)) {
                    (_, Some(Sense::Holds | Sense::HoldsNot)) => {
                        format!("Change the plan so that the answer is {}.{relief}", self.limit())
                    }
                    (Weight::Required, _) => format!("Change the plan to give {}.{relief}", self.limit()),
                    _ => format!("Consider {}.{relief}", self.limit()),
                }
            }
            Verdict::Verify => self.verify(),
            Verdict::Missing => {
                judged.needs.iter().map(|need| need.how.as_str()).collect::<Vec<_>>().join(" ")
            }
            Verdict::Meets | Verdict::NotApplicable | Verdict::Accepted => String::new(),
        }
    }

    /// What would give a verdict: what is in dispute first, since nothing else helps before.
    fn verify(&self) -> String {
        let names: Vec<String> = self.in_dispute().into_iter().map(|name| name.0).collect();
        let again = match names.as_slice() {
            [] => None,
            [one] => Some(format!("Measure {one} again: it does not add up.")),
            several => Some(format!("Measure {} again: they do not add up.", words::list(several))),
        };
        let close = match &self.judged.open {
            Some(open) => Some(self.settle(open)),
            None if again.is_none() => {
                Some(format!("Measure what decides between the rules for {}.", self.place()))
            }
            None => None,
        };
        again.into_iter().chain(close).collect::<Vec<_>>().join(" ")
    }

    /// The measurements in dispute that the verdict rests on.
    fn in_dispute(&self) -> Vec<Name> {
        let measurements = &self.scene.plan.measurements;
        let named = self.judged.disputed.iter().filter_map(|at| measurements.get(*at as usize));
        named.map(|measurement| measurement.id.clone()).collect()
    }

    /// The accuracy that would give a verdict, and where most of the doubt comes from.
    fn settle(&self, open: &Open) -> String {
        let place = self.place();
        let Some(enough) = open.enough else {
            return format!("No accuracy gives {place} a verdict at this level.");
        };
        let half_width = Quantity::new(open.room.value().dimension(), enough.spread * HALF_WIDTH);
        let half_width = show(half_width, self.style);
        // A number of standard uncertainties is nothing that one measures to within so much.
        let mut text = if is_margin(self.reading, open) {
            format!("Verify in field: take again, and better, the levels that turn the water from {place}.")
        } else if enough.sure {
            format!(
                "Verify in field: {place} to within \u{b1}{half_width} gives a verdict if the value holds."
            )
        } else {
            format!(
                "Verify in field: {place} stands at its limit; a new reading to within \u{b1}{half_width} most likely gives a verdict."
            )
        };
        let readings = retake::weightiest(&open.room, self.scene.plan, self.scene.layout);
        if !readings.is_empty() {
            text = format!("{text} Most of the doubt is in the {}.", words::list(&readings));
        }
        text
    }

    fn place(&self) -> String {
        words::place(self.features)
    }

    fn placed(&self, place: Placeholder) -> String {
        let called =
            |at: usize| self.features.get(at).map_or_else(String::new, |feature| words::called(feature));
        match place {
            Placeholder::Subject => called(0),
            Placeholder::Other => called(1),
            Placeholder::Shown => self.shown(),
            Placeholder::Limit => self.limit(),
            Placeholder::Short => self.judged.lack.map_or_else(String::new, |lack| show(lack, self.style)),
            Placeholder::Lack => self.lack(),
        }
    }

    fn limit(&self) -> String {
        self.judged.required.as_ref().map_or_else(String::new, Required::words)
    }

    fn lack(&self) -> String {
        let needs: Vec<String> = self.judged.needs.iter().map(|need| need.what.clone()).collect();
        words::list(&needs)
    }

    fn shown(&self) -> String {
        if let Some(words) = worded(self.reading, SHOWN_AS) {
            return words.to_owned();
        }
        match &self.reading.answer {
            Answer::Amount(amount) if amount.spread().si() > 0.0 => {
                show_with_spread(amount.value(), amount.spread(), self.style)
            }
            Answer::Amount(amount) => show(amount.value(), self.style),
            other => counted(other).unwrap_or_default(),
        }
    }
}
