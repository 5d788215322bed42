//! Verdicts that rest on a measurement in dispute: `verify`, until that is settled.
//!
//! A measurement that contradicts itself or others beyond its accuracy may be off by any amount, so the
//! probability worked out from that accuracy says nothing about it.

use std::collections::BTreeSet;

use groundrule_plan::{Gravity, Name};
use groundrule_site::Terms as ErrorTerms;
use groundrule_survey::{Layout, Owner};

use crate::draft::Draft;
use crate::finding::{DataFinding, Finding, Review, Verdict};
use crate::words;

/// The share of a variance below which a reading does not count as one that a value rests on.
///
/// It is a millionth of the standard uncertainty: a reading wrong by a thousand times its own accuracy moves
/// the value by a thousandth of what it is doubtful by anyway. An adjustment leaves rounding of 1e-16 in places
/// that a reading does not reach at all, which is far below.
const NEGLIGIBLE: f64 = 1e-12;

/// Turns verdicts that rest on a disputed measurement into `verify`, and keeps which.
pub(crate) fn suspend(drafts: &mut [Draft<'_>], layout: &Layout) {
    if layout.disputed.is_empty() {
        return;
    }
    for draft in drafts {
        let judged = &mut draft.answered.judged;
        if !matches!(judged.verdict, Verdict::Meets | Verdict::Fails | Verdict::Verify) {
            continue;
        }
        let causes: BTreeSet<u32> = judged.basis.iter().flat_map(|terms| within(terms, layout)).collect();
        if causes.is_empty() {
            continue;
        }
        judged.disputed = causes.into_iter().collect();
        judged.verdict = Verdict::Verify;
        judged.conformity = None;
    }
}

/// The disputed measurements among what an amount rests on.
fn within<'a>(terms: &'a ErrorTerms, layout: &'a Layout) -> impl Iterator<Item = u32> + 'a {
    let all: f64 = terms.iter().map(|(_, term)| term * term).sum();
    terms.iter().filter(move |(_, term)| term * term > NEGLIGIBLE * all).filter_map(
        |(source, _)| match layout.owner(*source)?.owner {
            Owner::Measurement(at) => layout.disputed.contains(&at).then_some(at),
            _ => None,
        },
    )
}

/// Says in the note of each finding so turned which finding on the data it waits for; findings have their numbers.
pub(crate) fn name_causes(review: &mut Review) {
    let Review { findings, data, .. } = review;
    for finding in findings.iter_mut().filter(|finding| !finding.in_dispute.is_empty()) {
        let sentence = cause(finding, data);
        finding.note = Some(match finding.note.take() {
            Some(note) => format!("{sentence} {note}"),
            None => sentence,
        });
    }
}

fn cause(finding: &Finding, data: &[DataFinding]) -> String {
    let names: Vec<String> = finding.in_dispute.iter().map(|name| name.0.clone()).collect();
    let numbers: Vec<String> = data
        .iter()
        .filter(|data| matches!(data.remark.gravity, Gravity::Wrong | Gravity::Suspect))
        .filter(|data| data.remark.about.iter().any(|name: &Name| finding.in_dispute.contains(name)))
        .filter_map(|data| Some(data.number?.to_string()))
        .collect();
    let see = match numbers.as_slice() {
        [] => String::new(),
        [one] => format!(" (finding {one})"),
        several => format!(" (findings {})", words::list(several)),
    };
    let (is, those) = if names.len() == 1 { ("is", "that is") } else { ("are", "those are") };
    format!(
        "It rests on {}, which {is} in dispute{see}: no verdict until {those} settled.",
        words::list(&names)
    )
}
