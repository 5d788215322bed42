//! Findings.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::Serialize;

use super::{At, Mark};

/// A finding on a rule.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Finding {
    /// Stable id, from its rule and its features; edits elsewhere leave it alone.
    pub id: String,
    /// Its number in this report, on the drawing too; only what asks for something has one.
    pub number: Option<u32>,
    /// The rule.
    pub rule: String,
    /// The rule's pack.
    pub pack: String,
    /// The rule's title.
    pub title: String,
    /// The verdict.
    pub verdict: Verdict,
    /// What hangs on it here.
    pub weight: Weight,
    /// Ids of the features as the plan writes them, the subject first.
    pub features: Vec<String>,
    /// Where, in words.
    pub place: String,
    /// What was measured, if an amount.
    pub shown: Option<Measure>,
    /// Amounts the check gives beside the one that is judged.
    pub beside: Vec<Beside>,
    /// Things the check lists, in its order: what lies near a piece of work.
    pub listed: Vec<Listed>,
    /// What was counted or stated, if no amount.
    pub answer: Option<String>,
    /// What is asked for.
    pub required: Option<Required>,
    /// The probability that the true value conforms, 0 to 1.
    pub probability: Option<f64>,
    /// What is lacking.
    pub needs: Vec<Need>,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// On whose authority.
    pub authority: Authority,
    /// Why the rule exists.
    pub why: String,
    /// What it means here.
    pub message: String,
    /// What to do.
    pub action: String,
    /// Whom to ask.
    pub referral: Option<String>,
    /// Ids of measurements in dispute that the verdict rests on; it is `verify` until they are settled.
    pub in_dispute: Vec<String>,
    /// Why the verdict is what it is, where that is not plain.
    pub note: Option<String>,
    /// Where the plan states its subject.
    pub at: Option<At>,
}

/// The six verdicts.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// The true value conforms with at least the level's probability.
    Meets,
    /// It conforms with at most one less that probability.
    Fails,
    /// Between the two: verify in field.
    Verify,
    /// The data to judge it is not there.
    Missing,
    /// The question does not arise.
    NotApplicable,
    /// It does not meet, and a recorded deviation accepts that.
    Accepted,
}

/// What hangs on a finding.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Weight {
    /// Must be met.
    Required,
    /// Advice.
    Advised,
    /// Told, nothing more.
    Noted,
}

/// An amount.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Amount {
    /// The number.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
}

/// An amount that stands beside the one that is judged.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Beside {
    /// What it is: `shared area`.
    pub what: String,
    /// The amount.
    pub amount: Measure,
}

/// One thing of a list.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Listed {
    /// What to call it.
    pub name: Option<String>,
    /// Its kind.
    pub kind: Option<String>,
    /// The letters that stand for it on the drawing.
    pub letters: Option<String>,
    /// The color it is marked in on the ground by the uniform code of the United States.
    pub color: Option<String>,
    /// What else is said of it in words, by what that is: `located`, `cover_basis`.
    pub words: BTreeMap<String, String>,
    /// What is measured or stated of it, by what that is: `gap`, `strip`, `cover`.
    pub amounts: BTreeMap<String, Measure>,
}

/// A measured amount.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Measure {
    /// The number.
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// The half width of its 95 % interval, in the same unit; 0 where it is taken as exact.
    pub plus_minus_95: f64,
}

/// Units, all SI.
#[derive(Debug, Serialize, JsonSchema)]
pub enum Unit {
    /// Metres.
    #[serde(rename = "m")]
    Metre,
    /// Square metres.
    #[serde(rename = "m2")]
    SquareMetre,
    /// Cubic metres.
    #[serde(rename = "m3")]
    CubicMetre,
    /// Radians.
    #[serde(rename = "rad")]
    Radian,
    /// Cubic metres a second.
    #[serde(rename = "m3/s")]
    CubicMetrePerSecond,
    /// Metres a second.
    #[serde(rename = "m/s")]
    MetrePerSecond,
    /// Seconds.
    #[serde(rename = "s")]
    Second,
    /// Parts of one: slopes and shares.
    #[serde(rename = "1")]
    One,
}

/// What a rule asks for.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Required {
    /// How it is compared.
    pub sense: Sense,
    /// The figure as its source prints it, or the formula with its value.
    pub text: String,
    /// The figure; the lower one of a range.
    pub value: Option<Amount>,
    /// The upper figure of a range.
    pub upper: Option<Amount>,
}

/// How a value is compared with a limit.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Sense {
    /// The limit itself meets.
    AtLeast,
    /// The limit itself does not meet.
    MoreThan,
    /// The limit itself meets.
    AtMost,
    /// The limit itself does not meet.
    LessThan,
    /// Both ends meet.
    Between,
    /// The answer must be yes.
    Holds,
    /// The answer must be no.
    HoldsNot,
}

/// Data that is not there.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Need {
    /// What is lacking.
    pub what: String,
    /// What to add or where to measure it.
    pub how: String,
}

/// On whose authority a limit stands, and where it was set.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Authority {
    /// The text it comes from.
    pub source: String,
    /// The section there.
    pub section: Option<String>,
    /// How much the figure can be trusted: `adopted local text`, `published standard`, `common practice`,
    /// `from memory` or `illustrative`.
    pub standing: String,
    /// The pack that set it.
    pub pack: String,
    /// That pack's version.
    pub version: String,
    /// The file.
    pub file: String,
    /// The line there, from 1.
    pub line: u32,
    /// What it overrides, nearest first.
    pub overrides: Vec<String>,
}

/// A finding on the plan's data.
#[derive(Debug, Serialize, JsonSchema)]
pub struct DataFinding {
    /// Stable id.
    pub id: String,
    /// Its number in this report; what is only noted has none.
    pub number: Option<u32>,
    /// Stable code of what is the matter.
    pub code: String,
    /// How grave it is.
    pub gravity: Gravity,
    /// What is the matter.
    pub message: String,
    /// The features, lots, points or measurements concerned.
    pub about: Vec<String>,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// What to do about it.
    pub help: Option<String>,
    /// Where in the plan file.
    pub at: Option<At>,
}

/// How grave a finding on the data is.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Gravity {
    /// It cannot be so.
    Wrong,
    /// It can be, but asks to be looked at.
    Suspect,
    /// Something that later work needs is not there.
    Lacking,
    /// Worth knowing; changes nothing.
    Noted,
}

/// A stopped module.
#[derive(Debug, Serialize, JsonSchema)]
pub struct ToolFinding {
    /// Stable id.
    pub id: String,
    /// Its number in this report.
    pub number: Option<u32>,
    /// Who failed, at what, and how.
    pub blame: Blamed,
    /// The rules that were not checked because of it.
    pub rules: Vec<String>,
}

/// Who failed, at what, and how.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Blamed {
    /// The module.
    pub module: String,
    /// Its version, if it got so far as to say.
    pub version: Option<String>,
    /// The rule it was working on.
    pub rule: Option<String>,
    /// How it failed, in two or three words: `out of fuel`.
    pub failure: String,
    /// What happened and what to do.
    pub message: String,
    /// Units of fuel used, if it ran.
    pub fuel_used: Option<u64>,
}
