//! Recorded deviations: what does not meet and was accepted, with a reason, by someone, for a time.

use std::collections::BTreeMap;

use groundrule_plan::{Gravity, Name, Remark, Span};

use crate::draft::Draft;
use crate::finding::{FindingId, Verdict};

/// A deviation that someone with the authority to do so accepted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Deviation {
    /// The finding it is for.
    pub finding: FindingId,
    /// Why it was accepted.
    pub reason: String,
    /// Who accepted it.
    pub accepted_by: String,
    /// When, `YYYY-MM-DD`.
    pub accepted_on: String,
    /// The last day it holds, `YYYY-MM-DD`; without one it holds until withdrawn.
    pub expires: Option<String>,
    /// Where it is recorded.
    pub span: Span,
}

/// Applies deviations at a date; those that no longer hold or accept nothing come back as remarks.
pub(crate) fn apply(drafts: &mut [Draft<'_>], deviations: &[Deviation], date: Option<&str>) -> Vec<Remark> {
    let mut remarks = Vec::new();
    if deviations.is_empty() {
        return remarks;
    }
    let places: BTreeMap<FindingId, usize> =
        drafts.iter().enumerate().map(|(at, draft)| (draft.id.clone(), at)).collect();
    for deviation in deviations {
        let Some(draft) = places.get(&deviation.finding).and_then(|at| drafts.get_mut(*at)) else {
            remarks.push(remark(
                deviation,
                "review::unused-deviation",
                "matches no finding",
                "Check its id, or delete it.",
            ));
            continue;
        };
        if !matches!(draft.answered.judged.verdict, Verdict::Fails | Verdict::Verify) {
            let what = "accepts what no longer deviates";
            remarks.push(remark(deviation, "review::stale-deviation", what, "Delete it."));
            continue;
        }
        // Dates of this form stand in order as texts do.
        match (&deviation.expires, date) {
            (Some(expires), Some(date)) if date > expires.as_str() => {
                let what = format!("ended on {expires}");
                remarks.push(remark(
                    deviation,
                    "review::expired-deviation",
                    &what,
                    "Have it renewed, or meet the rule.",
                ));
            }
            (Some(_), None) => {
                let help = "State `filed` under [site], or give a date to judge at.";
                remarks.push(remark(
                    deviation,
                    "review::undated-deviation",
                    "ends on a day, and no date is judged at",
                    help,
                ));
            }
            _ => {
                draft.answered.judged.verdict = Verdict::Accepted;
                draft.answered.judged.open = None;
                draft.answered.judged.disputed.clear();
                let until = deviation.expires.as_ref().map_or(String::new(), |day| format!(" until {day}"));
                let Deviation { accepted_by, accepted_on, reason, .. } = deviation;
                draft.note(&format!("Accepted by {accepted_by} on {accepted_on}{until}: {reason}"));
            }
        }
    }
    remarks
}

fn remark(deviation: &Deviation, code: &'static str, what: &str, help: &str) -> Remark {
    Remark {
        code,
        gravity: Gravity::Suspect,
        message: format!("The deviation for {} {what}.", deviation.finding.0),
        about: vec![Name(deviation.finding.0.clone())],
        spots: Vec::new(),
        span: deviation.span,
        help: Some(help.to_owned()),
    }
}
