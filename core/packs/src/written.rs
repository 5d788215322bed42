//! The pack file as it is written: every table with its keys, what they hold and what they are for.
//!
//! Each list of keys makes the reader, the JSON Schema and the reference page at once.

mod texts;
mod values;

pub(crate) use texts::{
    CheckName, Condition, District, Dotted, Expression, FactName, Message, Phrase, Slug, Version,
};
pub(crate) use values::{Amount, Declared, Few, Figure, Free, Group, Kind, SortWord, With};

use groundrule_plan::At;
use groundrule_plan::table;
use groundrule_plan::{Role, Status};

use crate::{Draws, Standing, Weight};

groundrule_plan::words! {
    Draws {
        "setback" => Draws::Setback, "The required setback line of each lot line the rule measures to.";
    }
}

table! {
    /// A pack sets limits. It measures nothing: each rule names the check of a module that does.
    pub(crate) table PackFile {
        /// Whose rules these are.
        required pack: PackHead,
        /// Classes that rules share, each decided once for every subject.
        optional class: Vec<ClassTable>,
        /// The rules, in the order a report lists them.
        required rule: Vec<RuleTable>,
    }
}

table! {
    /// Whose rules these are.
    pub(crate) table PackHead {
        /// A short name of lower-case letters, digits and hyphens, used on the command line.
        required name: At<Slug>,
        /// The title for reports.
        required title: Phrase,
        /// The version of the pack, named beside every limit it sets.
        required version: Version,
        /// Who answers questions about these rules.
        required agency: Phrase,
        /// What every reader of a report should be told about them.
        optional note: Phrase,
        /// True for a place that does not exist. Only such a pack may require illustrative rows.
        optional invented: bool,
        /// Parts of the source that are not in the pack; every report prints them.
        optional not_encoded: Vec<Phrase>,
    }
}

table! {
    /// A class is decided once for each subject, so that all rules agree on what is a raised deck or a ramp.
    pub(crate) table ClassTable {
        /// The name that selectors use.
        required name: At<Slug>,
        /// Whom it is asked of.
        required subject: SelectorTable,
        /// The stated fact that decides, for example `height_above_grade`.
        required fact: At<FactName>,
        /// What the fact must be for the subject to be of the class.
        required limit: LimitTable,
    }
}

table! {
    /// One rule: who is measured, by which check, against which limit, on whose authority.
    pub(crate) table RuleTable {
        /// Lower-case letters, digits and hyphens. Never used again for another rule.
        required id: At<Slug>,
        /// The rule in a few words.
        required title: Phrase,
        /// The check that measures, as `module/check`.
        required check: CheckName,
        /// Whom the rule is about.
        required subject: SelectorTable,
        /// What the subject is measured to: a selector for each group of the check.
        optional to: Free<Group, SelectorTable>,
        /// What shapes the measurement, by the name of the check's parameter.
        optional with: Free<Group, With>,
        /// Facts that the readings of the check carry and a formula here uses, each with its sort.
        optional reading: Free<Group, SortWord>,
        /// What the reading is judged by.
        required limit: LimitTable,
        /// A formula that gives yes or no; the rule is asked only where it gives yes.
        optional when: At<Condition>,
        /// Zoning districts it is for; all when left out.
        optional district: Few<District>,
        /// Overlay districts it is for; all when left out.
        optional overlay: Few<District>,
        /// Cases with another limit or none. The first that holds governs.
        optional exception: Vec<ExceptionTable>,
        /// What hangs on it. A figure that no adopted or published text supports is `advised` at most.
        required weight: At<Weight>,
        /// How much the figure can be trusted.
        required standing: At<Standing>,
        /// The text the limit comes from.
        required source: Phrase,
        /// The section there.
        optional section: Phrase,
        /// Why the rule exists, for someone learning the trade.
        required why: Phrase,
        /// What to say when it is not met, with placeholders as `{shown}`.
        required message: At<Message>,
        /// What can be done when it cannot be met.
        optional relief: Phrase,
        /// Whom to ask.
        optional referral: Phrase,
        /// The subject of the plan's `[declared]` table that makes the rule not applicable when there is none.
        optional declared: Declared,
        /// Judge what stands already like what is proposed.
        optional existing_counts: bool,
        /// What of the limit is drawn. A rule that draws setbacks measures to lot lines against a least length; the ground
        /// that the greatest one on each line leaves is the lot's buildable area.
        optional draws: At<Draws>,
    }
}

table! {
    /// Which things a rule is about. Every key that is given must hold.
    pub(crate) table SelectorTable {
        /// Of any of these kinds, or of a kind below one.
        required kind: Few<Kind>,
        /// But of none of these, nor of a kind below one.
        optional except: Few<Kind>,
        /// Of any of these statuses. What is to be removed is left out unless named.
        optional status: Few<Status>,
        /// Lot lines of any of these roles.
        optional role: Few<Role>,
        /// Of any of these classes of this pack.
        optional class: Few<At<Slug>>,
        /// With these facts: `true` when stated, `false` when not, or the text it must be. A yes-or-no fact must
        /// be stated so.
        optional having: Free<Group, With>,
        /// Of a group: true asks the rule also where there is none of these, for a check that has an answer without.
        optional optional: bool,
    }
}

table! {
    /// One comparison, and only one. Figures stay in the unit their source prints.
    pub(crate) table LimitTable {
        /// The figure itself meets.
        optional at_least: At<Figure>,
        /// The figure itself does not meet.
        optional more_than: At<Figure>,
        /// The figure itself meets.
        optional at_most: At<Figure>,
        /// The figure itself does not meet.
        optional less_than: At<Figure>,
        /// Two figures; both ends meet.
        optional between: At<Vec<At<Figure>>>,
        /// For a check that answers yes or no: the answer that meets.
        optional holds: bool,
        /// The figure as the source prints it in the other system of units. Meeting either meets.
        optional also: At<Amount>,
    }
}

table! {
    /// A figure that depends on the plan: either a formula, or a table by the value of a fact.
    pub(crate) table FigureBy {
        /// A formula that gives the figure: `greatest(feet(5), subject.height / 2)`.
        optional formula: At<Expression>,
        /// The fact whose value chooses the figure: `site.district`.
        optional by: At<Dotted>,
        /// The figure for each value.
        optional values: Free<String, At<Amount>>,
        /// The figure for any other value. Without it the rule is not for other values.
        optional r#else: At<Amount>,
    }
}

table! {
    /// A case with another limit: either `limit` or `lifts` is given.
    pub(crate) table ExceptionTable {
        /// A formula that gives yes or no.
        required when: At<Condition>,
        /// The limit instead.
        optional limit: LimitTable,
        /// True where the rule falls away.
        optional lifts: bool,
        /// Where the exception comes from.
        required source: Phrase,
    }
}
