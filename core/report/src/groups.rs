//! Findings in the order a reader needs them: what asks for something first.

use groundrule_packs::Weight;
use groundrule_review::{Finding, Review, Verdict};

/// A group of findings on rules that ask for something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Group {
    /// Required, and fails.
    Fails,
    /// Too close to call.
    Verify,
    /// Not judged for want of data.
    Missing,
    /// Fails, with nothing hanging on it.
    Advice,
    /// Lists of what lies near work in the ground.
    Digging,
}

impl Group {
    /// The groups in reading order.
    pub(crate) const ALL: [Self; 5] = [Self::Fails, Self::Verify, Self::Missing, Self::Advice, Self::Digging];

    /// The group's heading.
    pub(crate) const fn heading(self) -> &'static str {
        match self {
            Self::Fails => "Fails",
            Self::Verify => "Verify in field",
            Self::Missing => "Missing data",
            Self::Advice => "Fails, as advice or noted",
            Self::Digging => "Before digging",
        }
    }

    /// What a reader must know before the group.
    pub(crate) const fn caution(self) -> Option<&'static str> {
        match self {
            Self::Digging => Some(crate::cautions::DIGGING),
            _ => None,
        }
    }

    /// The group's findings, in the order of their numbers.
    pub(crate) fn of(self, review: &Review) -> Vec<&Finding> {
        review
            .findings
            .iter()
            .filter(|finding| finding.number.is_some() && Self::holding(finding) == self)
            .collect()
    }

    fn holding(finding: &Finding) -> Self {
        match finding.verdict {
            _ if crate::listed::is_of_digging(finding) => Self::Digging,
            Verdict::Verify => Self::Verify,
            Verdict::Missing => Self::Missing,
            _ if finding.weight == Weight::Required => Self::Fails,
            _ => Self::Advice,
        }
    }
}

/// Findings of one verdict that ask for nothing.
pub(crate) fn settled(review: &Review, verdict: Verdict) -> Vec<&Finding> {
    review.findings.iter().filter(|finding| finding.number.is_none() && finding.verdict == verdict).collect()
}
