//! What a review says.

use std::collections::BTreeMap;
use std::sync::Arc;

use groundrule_packs::{Provenance, RowId, Sense, Standing, Weight};
use groundrule_plan::{Name, Remark, Span};
use groundrule_sandbox::Blame;
use groundrule_site::{FeatureId, Mark, Measured, Need};
use groundrule_units::{Length, Quantity, Ratio};

use crate::buildable::Buildable;
use crate::retake::Retake;

/// A finding's stable id: its rule and its features, so that edits elsewhere leave it alone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FindingId(pub String);

/// The six verdicts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// The true value conforms with at least the level asked for.
    Meets,
    /// The true value conforms with at most one less the level.
    Fails,
    /// Too close to call at this accuracy: verify in field.
    Verify,
    /// The data to judge it is not there.
    Missing,
    /// The question does not arise.
    NotApplicable,
    /// It does not meet, and a recorded deviation accepts that.
    Accepted,
}

impl Verdict {
    /// The word for it, the same in every output.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Meets => "meets",
            Self::Fails => "fails",
            Self::Verify => "verify",
            Self::Missing => "missing",
            Self::NotApplicable => "not applicable",
            Self::Accepted => "accepted",
        }
    }
}

/// What was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// The amount.
    pub value: Quantity,
    /// Its standard uncertainty.
    pub spread: Quantity,
}

/// An amount that stands beside what is judged, as the area that an overlap shares.
#[derive(Clone, Debug, PartialEq)]
pub struct Beside {
    /// What it is: `shared area`.
    pub what: String,
    /// The amount.
    pub shown: Shown,
}

/// One thing of a list that a check gives with its answer: what lies near a piece of work.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Listed {
    /// What is said of it in words, by what that is: `name`, `kind`.
    pub words: BTreeMap<String, String>,
    /// What is measured or stated of it: `gap`, `cover`.
    pub amounts: BTreeMap<String, Shown>,
}

/// What the rule asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Required {
    /// The sense.
    pub sense: Sense,
    /// The figure as its source prints it, or the formula with its value.
    pub text: String,
    /// The figure; none for a truth.
    pub value: Option<Quantity>,
    /// The upper figure of a range.
    pub upper: Option<Quantity>,
    /// What a figure of zero asks, in the words of the check; none where the figure says it.
    pub said: Option<String>,
}

impl Required {
    /// The sense and the figure as a phrase: `at least 5 ft`; `no overlap` for a clearance of nothing or more.
    pub fn words(&self) -> String {
        if let Some(said) = &self.said {
            return said.clone();
        }
        let text = &self.text;
        let no_length = self.value.and_then(Quantity::length) == Some(Length::ZERO);
        match self.sense {
            Sense::AtLeast if no_length => "no overlap".to_owned(),
            Sense::AtLeast => format!("at least {text}"),
            Sense::MoreThan => format!("more than {text}"),
            Sense::AtMost => format!("at most {text}"),
            Sense::LessThan => format!("less than {text}"),
            Sense::Between => format!("between {}", text.replacen(" to ", " and ", 1)),
            Sense::Holds => "yes".to_owned(),
            Sense::HoldsNot => "no".to_owned(),
        }
    }
}

/// The authority of a limit.
#[derive(Clone, Debug, PartialEq)]
pub struct Citation {
    /// The text.
    pub source: String,
    /// The section there.
    pub section: Option<String>,
    /// How much the figure can be trusted.
    pub standing: Standing,
    /// The pack, file and line that set it.
    pub provenance: Provenance,
}

/// A finding on a rule.
#[derive(Clone, Debug)]
pub struct Finding {
    /// Stable id.
    pub id: FindingId,
    /// Its number in this report, from 1; only findings that ask for something have one.
    pub number: Option<u32>,
    /// The rule.
    pub rule: RowId,
    /// The pack.
    pub pack: Arc<str>,
    /// The rule's title.
    pub title: Arc<str>,
    /// The verdict.
    pub verdict: Verdict,
    /// The weight it carries here.
    pub weight: Weight,
    /// The features: the subject first.
    pub features: Vec<FeatureId>,
    /// Their ids as written.
    pub names: Vec<Name>,
    /// A short phrase for where: `shed to west line`.
    pub place: String,
    /// What was measured, if an amount.
    pub shown: Option<Shown>,
    /// The measured amount with its error terms.
    pub measured: Option<Measured>,
    /// Amounts the check gives beside the one that is judged, in the order of their names.
    pub beside: Vec<Beside>,
    /// Things that the check lists, in its order; a finding with any is a list to work by and no complaint.
    pub listed: Vec<Listed>,
    /// A counted or stated answer in words, if no amount.
    pub answer: Option<String>,
    /// What is asked for.
    pub required: Option<Required>,
    /// The probability of conformity.
    pub conformity: Option<Ratio>,
    /// What is lacking.
    pub needs: Vec<Need>,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// The authority, shared by all findings on the rule.
    pub citation: Arc<Citation>,
    /// Why the rule exists.
    pub why: Arc<str>,
    /// What it means here.
    pub message: String,
    /// What to do.
    pub action: String,
    /// Whom to ask.
    pub referral: Option<String>,
    /// Measurements in dispute that the verdict rests on, by their ids; it is `verify` until they are settled.
    pub in_dispute: Vec<Name>,
    /// Why the verdict is what it is, where that is not plain: an existing nonconformity, an uncertain class.
    pub note: Option<String>,
    /// The feature's place in the plan file.
    pub span: Span,
}

/// A finding on the data.
#[derive(Clone, Debug)]
pub struct DataFinding {
    /// Stable id.
    pub id: FindingId,
    /// Its number in this report.
    pub number: Option<u32>,
    /// The remark.
    pub remark: Remark,
    /// Where to draw it, in local coordinates.
    pub marks: Vec<Mark>,
}

/// A stopped module.
#[derive(Clone, Debug)]
pub struct ToolFinding {
    /// Stable id.
    pub id: FindingId,
    /// Its number in this report.
    pub number: Option<u32>,
    /// What happened.
    pub blame: Blame,
    /// The rules that were not checked because of it.
    pub rules: Vec<RowId>,
}

/// A pack that was used.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackUse {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its version.
    pub version: String,
    /// Whose rules these are.
    pub agency: String,
    /// What to tell the reader.
    pub note: Option<String>,
    /// What of its source is not checked.
    pub not_encoded: Vec<String>,
}

/// What one rule cost and gave.
#[derive(Clone, Debug)]
pub struct RuleRecord {
    /// The rule.
    pub rule: RowId,
    /// The pack.
    pub pack: String,
    /// How many subjects it was asked of.
    pub subjects: usize,
    /// Fuel its module used.
    pub fuel: u64,
}

/// How many findings of each verdict.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    /// Meets.
    pub meets: usize,
    /// Fails, required.
    pub fails: usize,
    /// Fails, as advice or noted.
    pub advice: usize,
    /// Verify.
    pub verify: usize,
    /// Missing.
    pub missing: usize,
    /// Not applicable.
    pub not_applicable: usize,
    /// Accepted.
    pub accepted: usize,
    /// Findings on the data.
    pub data: usize,
    /// Stopped modules.
    pub tool: usize,
}

/// A whole review.
#[derive(Clone, Debug)]
pub struct Review {
    /// The plan's title.
    pub plan: String,
    /// Findings on rules, in a total order: rule order of the packs, then features.
    pub findings: Vec<Finding>,
    /// Findings on the data.
    pub data: Vec<DataFinding>,
    /// Stopped modules.
    pub tool: Vec<ToolFinding>,
    /// Packs in force.
    pub packs: Vec<PackUse>,
    /// One record per row.
    pub rules: Vec<RuleRecord>,
    /// What to take in the field or to ask the owner so that `verify` and `missing` become verdicts, best first.
    pub retakes: Vec<Retake>,
    /// What the required setbacks leave of each lot; empty where no rule draws any.
    pub buildable: Vec<Buildable>,
    /// The level of probability asked for.
    pub level: Ratio,
    /// The date rules were judged at, if any.
    pub judged_at: Option<String>,
}
