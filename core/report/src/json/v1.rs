//! Version 1 of the report as JSON.
//!
//! Nothing in it is ever renamed, removed or given another meaning; fields may be added. A field that has
//! nothing to say is `null` or an empty list, and is never left out.

mod buildable;
mod convert;
mod finding;
mod place;

use schemars::JsonSchema;
use schemars::generate::SchemaSettings;
use serde::Serialize;

pub use buildable::{Buildable, Setback};
pub use finding::{
    Amount, Authority, Beside, Blamed, DataFinding, Finding, Gravity, Listed, Measure, Need, Required, Sense,
    ToolFinding, Unit, Verdict, Weight,
};
pub use place::{At, Mark};

use crate::{CAUTIONS, Report, safe};

/// The value of `format`.
pub const FORMAT: &str = "groundrule-report";
/// The value of `version`.
pub const VERSION: u32 = 1;

/// The whole document: one entry for every plan that was reviewed.
#[derive(Debug, Serialize, JsonSchema)]
#[schemars(title = "Groundrule report, version 1")]
pub struct Document {
    /// Always `groundrule-report`.
    #[schemars(extend("const" = "groundrule-report"))]
    pub format: &'static str,
    /// Always 1.
    #[schemars(extend("const" = 1))]
    pub version: u32,
    /// The plans, in the order they were given.
    pub plans: Vec<PlanReport>,
    /// What every reader must know, and to whom the findings defer.
    pub cautions: Vec<Caution>,
}

/// One plan's review.
#[derive(Debug, Serialize, JsonSchema)]
pub struct PlanReport {
    /// The plan's title.
    pub plan: String,
    /// The file it was read from, as it was named.
    pub file: String,
    /// The date rules were judged at, `YYYY-MM-DD`.
    pub judged_at: Option<String>,
    /// The probability a verdict was given at, above 0.5 and at most 1.
    pub level: f64,
    /// How many findings of each sort.
    pub counts: Counts,
    /// Findings on rules: in rule order of the packs, then in feature order.
    pub findings: Vec<Finding>,
    /// Findings on the plan's data.
    pub data_findings: Vec<DataFinding>,
    /// Stopped modules; their rules were not checked.
    pub tool_findings: Vec<ToolFinding>,
    /// What to take in the field or to ask for, so that `verify` and `missing` become verdicts; best first.
    pub fieldwork: Vec<FieldItem>,
    /// What the required setbacks leave of each lot; empty where no rule in force draws any.
    pub buildable: Vec<Buildable>,
    /// The packs in force.
    pub packs: Vec<Pack>,
    /// Every rule that was asked, and what asking took.
    pub rules: Vec<Rule>,
}

/// How many findings of each sort.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Counts {
    /// Required, and fails.
    pub fails: usize,
    /// Fails, as advice or noted.
    pub advice: usize,
    /// To verify in field.
    pub verify: usize,
    /// Not judged for want of data.
    pub missing: usize,
    /// Meets.
    pub meets: usize,
    /// Not applicable.
    pub not_applicable: usize,
    /// Accepted deviations.
    pub accepted: usize,
    /// Findings on the data, those only noted included.
    pub data: usize,
    /// Stopped modules.
    pub tool: usize,
}

/// Something to take in the field, or to ask the owner or a paper for.
#[derive(Debug, Serialize, JsonSchema)]
pub struct FieldItem {
    /// How it is taken.
    pub how: Taking,
    /// What: a reading as the plan names it, a distance from one thing to another, or what is lacking.
    pub what: String,
    /// The point or feature it is measured from, by its full name.
    pub from: Option<String>,
    /// The point or feature it is measured to, by its full name.
    pub to: Option<String>,
    /// The half width at 95 % that is enough for what it settles; none where no figure can be given.
    pub plus_minus: Option<Amount>,
    /// What the plan has there now, in words.
    pub now: Option<String>,
    /// What to do, for what is lacking.
    pub advice: Option<String>,
    /// How many findings it settles.
    pub settles_count: usize,
    /// Their ids: settled together with what stands above it in the list, if the values hold.
    pub settles: Vec<String>,
    /// Ids of other findings whose doubt it lessens.
    pub helps: Vec<String>,
    /// What to draw.
    pub marks: Vec<Mark>,
    /// Where the plan states it.
    pub at: Option<At>,
}

/// How something is taken.
#[derive(Debug, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Taking {
    /// The judged length itself is measured.
    Length,
    /// A reading is taken again, better.
    Reading,
    /// A whole measurement is taken again, since it does not add up.
    Disputed,
    /// What is lacking is measured.
    Measured,
    /// What is lacking is stated by whoever knows.
    Stated,
}

/// A pack in force.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Pack {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its version.
    pub version: String,
    /// Whose rules these are.
    pub agency: String,
    /// What it tells the reader.
    pub note: Option<String>,
    /// What of its source is not checked.
    pub not_checked: Vec<String>,
}

/// A rule that was asked.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Rule {
    /// Its pack.
    pub pack: String,
    /// Its id.
    pub rule: String,
    /// How many subjects it was asked of.
    pub subjects: usize,
    /// Units of fuel its module used.
    pub fuel: u64,
}

/// A caution.
#[derive(Debug, Serialize, JsonSchema)]
pub struct Caution {
    /// What it is about.
    pub subject: &'static str,
    /// What to do.
    pub text: &'static str,
}

/// One document with a list of plans, indented, with a line feed at its end.
pub fn reports(reports: &[Report<'_>]) -> String {
    let document = Document {
        format: FORMAT,
        version: VERSION,
        plans: reports.iter().map(PlanReport::from).collect(),
        cautions: CAUTIONS
            .iter()
            .map(|caution| Caution { subject: caution.subject, text: caution.text })
            .collect(),
    };
    print(&document)
}

/// The JSON Schema (draft 2020-12) of a document, indented, with a line feed at its end.
pub fn schema() -> String {
    let settings = SchemaSettings::draft2020_12().for_serialize();
    print(&settings.into_generator().into_root_schema_for::<Document>())
}

/// Text and numbers under names always print, so there is no error to tell.
fn print(value: &impl Serialize) -> String {
    let mut text = safe::json(&serde_json::to_string_pretty(value).unwrap_or_default());
    text.push('\n');
    text
}
