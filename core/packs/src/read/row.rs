//! Rules.

use std::collections::BTreeMap;

use groundrule_plan::reader::Reader;
use groundrule_plan::{At, Fault};
use groundrule_units::Dimension;

use super::selector::parameter;
use super::{Context, within};
use crate::formula::{Scope, Sort};
use crate::written::{District, ExceptionTable, Few, Phrase, RuleTable};
use crate::{Bound, Draws, Exception, Formula, Limit, Row, RowId, Sense, Standing, Weight};

impl Context<'_> {
    /// A rule; nothing when a part without which it cannot be asked is wrong.
    pub(super) fn row(&self, table: RuleTable, reader: &mut Reader<'_>) -> Option<Row> {
        let subject = table.subject.map(|subject| self.selector(subject, reader));
        let to = table.to.unwrap_or_default().0.into_iter();
        let against: BTreeMap<_, _> =
            to.map(|(group, to)| (group.value, self.selector(to, reader))).collect();
        let reading: BTreeMap<String, Sort> = table
            .reading
            .unwrap_or_default()
            .0
            .into_iter()
            .map(|(name, sort)| (name.value, sort.0))
            .collect();
        let others: Vec<String> =
            against.values().flat_map(|selector| selector.kinds.iter().cloned()).collect();
        let subjects = subject.as_ref().map(|subject| subject.kinds.clone()).unwrap_or_default();
        let kinds = reader.kinds;
        let scope = Scope { kinds, subject: &subjects, other: &others, reading: &reading };

        let with = table.with.unwrap_or_default().0.into_iter();
        let with = with.map(|(name, value)| (name.value, parameter(value))).collect();
        let provenance = table.limit.as_ref().map(|limit| self.provenance(limit.span));
        let limit = table.limit.and_then(|limit| self.limit(limit, &scope, reader));
        let when = table.when.and_then(|when| within::condition(&when, &scope, self.source, reader));
        let tables = table.exception.unwrap_or_default().into_iter();
        let exceptions: Vec<Exception> =
            tables.filter_map(|exception| self.exception(exception, &scope, reader)).collect();
        if let Some(message) = &table.message {
            within::message(message, self.source, reader);
        }
        if let (Some(weight), Some(standing)) = (&table.weight, &table.standing) {
            self.light_enough(weight, standing, reader);
        }
        if let (Some(draws), Some(limit)) = (&table.draws, &limit) {
            let formulas = when.iter().chain(exceptions.iter().map(|exception: &Exception| &exception.when));
            drawable(draws, limit, &exceptions, &others, formulas, reader);
        }
        let words = |phrase: Option<Phrase>| phrase.map(|phrase| phrase.0);
        let names =
            |few: Option<Few<District>>| few.into_iter().flat_map(|few| few.0).map(|name| name.0).collect();
        Some(Row {
            id: RowId(table.id?.value.0),
            title: table.title?.0,
            check: table.check?.0,
            subject: subject?,
            against,
            with,
            limit: limit?,
            when,
            districts: names(table.district),
            overlays: names(table.overlay),
            exceptions,
            weight: table.weight?.value,
            standing: table.standing?.value,
            citation: table.source?.0,
            section: words(table.section),
            why: table.why?.0,
            message: table.message?.value.0,
            relief: words(table.relief),
            referral: words(table.referral),
            existing_counts: table.existing_counts.unwrap_or_default(),
            declared: table.declared.map(|subject| subject.0),
            draws: table.draws.map(|draws| draws.value),
            provenance: provenance?,
        })
    }

    fn exception(
        &self,
        table: ExceptionTable,
        scope: &Scope<'_>,
        reader: &mut Reader<'_>,
    ) -> Option<Exception> {
        let when = table.when.and_then(|when| within::condition(&when, scope, self.source, reader));
        let lifts = table.lifts.unwrap_or_default();
        if lifts == table.limit.is_some() {
            let help = "Write the other limit, or `lifts = true` where the rule falls away.";
            return reader.fault_help(
                "pack::exception",
                "An exception has another limit or lifts the rule.",
                table.span,
                "neither, or both",
                help,
            );
        }
        let limit = match table.limit {
            Some(limit) => Some(self.limit(limit, scope, reader)?),
            None => None,
        };
        Some(Exception {
            when: when?,
            limit,
            citation: table.source?.0,
            provenance: self.provenance(table.span),
        })
    }

    /// Refuses a weight that the standing of the figure cannot bear.
    fn light_enough(&self, weight: &At<Weight>, standing: &At<Standing>, reader: &mut Reader<'_>) {
        if weight.value <= standing.value.heaviest(self.invented) {
            return;
        }
        let message = format!(
            "A figure with the standing `{}` cannot be `{}`.",
            standing.value.words(),
            weight.value.words()
        );
        let fault = Fault::new("pack::standing", message, weight.span, "too heavy")
            .with_label(standing.span, "for this standing");
        reader.tell(fault.with_help(match standing.value {
            Standing::Illustrative => {
                "Say `invented = true` of the pack if its place does not exist, or make the row `advised`."
            }
            _ => "Make the row `advised`, or cite the adopted or published text that carries it.",
        }));
    }
}

/// Refuses to draw what is no setback: a limit that is no least length, is not measured to lot lines, or hangs on what
/// only a measurement tells.
fn drawable<'a>(
    draws: &At<Draws>,
    limit: &'a Limit,
    exceptions: &'a [Exception],
    others: &[String],
    formulas: impl Iterator<Item = &'a Formula>,
    reader: &mut Reader<'_>,
) {
    let mut refuse = |message: &str, beside: &str, help: &str| {
        reader.tell(Fault::new("pack::draws", message, draws.span, beside).with_help(help));
    };
    let limits = || std::iter::once(limit).chain(exceptions.iter().filter_map(|e| e.limit.as_ref()));
    let least = |limit: &Limit| {
        matches!(limit.sense, Sense::AtLeast | Sense::MoreThan | Sense::Between)
            && limit.dimension().is_none_or(|dimension| dimension == Dimension::Length)
    };
    if !limits().all(least) || limit.dimension().is_none() {
        let help = "Give `at_least` with a length, or take `draws` out.";
        refuse("Only a least length is drawn as a setback.", "no least length", help);
    }
    if !others.iter().any(|kind| kind == "lot-line") {
        let help = "Measure to lot lines, `to.lines = { kind = \"lot-line\", role = \"side\" }`, or take `draws` out.";
        refuse(
            "A setback is drawn along lot lines, and the rule does not measure to any.",
            "along what",
            help,
        );
    }
    let named = |bound: &'a Bound| -> Vec<&'a str> {
        match bound {
            Bound::Formula(formula, _) => formula.names().collect(),
            Bound::Table { by, .. } => vec![by.as_str()],
            Bound::None | Bound::Constant(_) | Bound::Count(_) => Vec::new(),
        }
    };
    let bounds = limits().flat_map(|limit| named(&limit.bound));
    let measured = formulas.flat_map(Formula::names).chain(bounds).find(|name| name.starts_with("reading."));
    if let Some(name) = measured {
        let message = format!("A setback cannot hang on `{name}`, which only a measurement tells.");
        refuse(
            &message,
            "drawn before anything is measured",
            "Use facts of the subject, the line, the lot or the site.",
        );
    }
}
