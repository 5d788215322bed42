//! The typed pack.

use std::collections::BTreeMap;

use groundrule_plan::{Role, Source, Span, Status};
use groundrule_site::Parameter;
use groundrule_units::{Dimension, Quantity, Written};

use crate::Formula;

/// A row's id, unique in its pack and never used again for anything else.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RowId(pub String);

/// A pack of rules.
#[derive(Clone, Debug)]
pub struct Pack {
    /// Its name.
    pub name: String,
    /// A title for reports.
    pub title: String,
    /// Its version.
    pub version: String,
    /// Whose rules these are.
    pub agency: String,
    /// What to tell the reader about them.
    pub note: Option<String>,
    /// Sections of the source that are not in the pack, printed in every report.
    pub not_encoded: Vec<String>,
    /// True for a jurisdiction that does not exist; only such a pack may require illustrative rows.
    pub invented: bool,
    /// Its classes.
    pub classes: Vec<Class>,
    /// Its rows.
    pub rows: Vec<Row>,
    /// The file.
    pub source: Source,
}

/// A class decided once for each subject, so that all rules agree: a raised deck, a ramp.
#[derive(Clone, Debug)]
pub struct Class {
    /// Its name, used by selectors.
    pub name: String,
    /// Whom it is asked of.
    pub subject: Selector,
    /// The fact that decides.
    pub fact: String,
    /// How it is compared.
    pub limit: Limit,
    /// Where.
    pub provenance: Provenance,
}

/// One rule.
#[derive(Clone, Debug)]
pub struct Row {
    /// Its id.
    pub id: RowId,
    /// A title in a few words.
    pub title: String,
    /// The check that measures: `setbacks/lot-line-distance`.
    pub check: String,
    /// Whom it is about.
    pub subject: Selector,
    /// What it is measured to, by group name; most checks have one group, `against`.
    pub against: BTreeMap<String, Selector>,
    /// Parameters that shape the measurement.
    pub with: BTreeMap<String, Parameter>,
    /// The limit the reading is judged by.
    pub limit: Limit,
    /// The row is asked only where this holds.
    pub when: Option<Formula>,
    /// Districts it is for; all when empty.
    pub districts: Vec<String>,
    /// Overlays it is for; all when empty.
    pub overlays: Vec<String>,
    /// Cases that get another limit, or none; the first that holds governs.
    pub exceptions: Vec<Exception>,
    /// What hangs on it.
    pub weight: Weight,
    /// How much its figure can be trusted.
    pub standing: Standing,
    /// The text it comes from.
    pub citation: String,
    /// The section there.
    pub section: Option<String>,
    /// Why the rule exists, for teaching.
    pub why: String,
    /// What to say when it is not met.
    pub message: String,
    /// What can be done when it cannot be met.
    pub relief: Option<String>,
    /// Whom to ask.
    pub referral: Option<String>,
    /// Judge existing things like proposed ones.
    pub existing_counts: bool,
    /// The `[declared]` subject that makes it not applicable when there is none.
    pub declared: Option<String>,
    /// What of its limit is drawn.
    pub draws: Option<Draws>,
    /// Where its limit was set.
    pub provenance: Provenance,
}

/// What of a row's limit is a thing to draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Draws {
    /// It is how far back of each lot line the row measures to the required setback line lies.
    Setback,
}

/// Which features a row is about.
#[derive(Clone, Debug, Default)]
pub struct Selector {
    /// Of any of these kinds or a kind below it; any kind but the sheet when empty.
    pub kinds: Vec<String>,
    /// But of none of these.
    pub except: Vec<String>,
    /// Of any of these statuses; any when empty. What is to be removed is never selected unless named.
    pub status: Vec<Status>,
    /// Lot lines of any of these roles.
    pub roles: Vec<Role>,
    /// Of any of these classes.
    pub classes: Vec<String>,
    /// With these facts: present, or equal to a text or truth.
    pub having: BTreeMap<String, Having>,
    /// Of a group: the rule is asked also where there is none of these.
    pub optional: bool,
}

/// What a selector asks of one fact.
#[derive(Clone, Debug, PartialEq)]
pub enum Having {
    /// It is stated.
    Stated,
    /// It is not stated.
    Absent,
    /// It is this text.
    Text(String),
    /// It is this truth.
    Flag(bool),
}

/// How a reading is compared.
#[derive(Clone, Debug)]
pub struct Limit {
    /// The sense of the comparison.
    pub sense: Sense,
    /// The bound; the lower one of a range.
    pub bound: Bound,
    /// The upper bound of a range.
    pub upper: Option<Bound>,
    /// The other form its source prints, in the other system of units; meeting either meets.
    pub also: Option<Written<Quantity>>,
}

/// The sense of a limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

/// The figure of a limit.
#[derive(Clone, Debug)]
pub enum Bound {
    /// A truth needs no figure.
    None,
    /// One figure.
    Constant(Written<Quantity>),
    /// A whole number.
    Count(u32),
    /// A figure by the value of a text fact.
    Table {
        /// The dotted name of the fact: `site.district`, `line.role`.
        by: String,
        /// The figure for each value.
        rows: BTreeMap<String, Written<Quantity>>,
        /// The figure for any other value; without one the row is not for it.
        otherwise: Option<Written<Quantity>>,
    },
    /// A figure by formula.
    Formula(Formula, Dimension),
}

impl Bound {
    /// What its figure is a quantity of; none for a count, a truth or an empty table.
    pub fn dimension(&self) -> Option<Dimension> {
        match self {
            Self::None | Self::Count(_) => None,
            Self::Constant(figure) => Some(figure.value.dimension()),
            Self::Table { rows, otherwise, .. } => {
                rows.values().chain(otherwise).next().map(|figure| figure.value.dimension())
            }
            Self::Formula(_, dimension) => Some(*dimension),
        }
    }
}

impl Limit {
    /// What is compared; none for a count or a truth.
    pub fn dimension(&self) -> Option<Dimension> {
        self.bound.dimension()
    }
}

/// A case with another limit.
#[derive(Clone, Debug)]
pub struct Exception {
    /// When it holds.
    pub when: Formula,
    /// The limit instead; none lifts the rule.
    pub limit: Option<Limit>,
    /// Its own source.
    pub citation: String,
    /// Where.
    pub provenance: Provenance,
}

/// What hangs on a row.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Told, nothing more.
    Noted,
    /// Advice.
    Advised,
    /// Must be met.
    Required,
}

/// How much a row's figure can be trusted, best first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// The adopted text of the place itself.
    AdoptedLocalText,
    /// A published standard or model code.
    PublishedStandard,
    /// Common practice of the trade.
    CommonPractice,
    /// From memory, not read again.
    FromMemory,
    /// Made up to illustrate.
    Illustrative,
}

/// Where a limit was set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Provenance {
    /// The pack.
    pub pack: String,
    /// Its version.
    pub version: String,
    /// The file.
    pub file: String,
    /// The line, from 1.
    pub line: u32,
    /// Where in the file.
    pub span: Span,
    /// What it overrides, nearest first.
    pub overrides: Vec<String>,
}
