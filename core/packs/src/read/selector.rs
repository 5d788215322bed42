//! Selectors and parameters.

use std::collections::BTreeMap;

use groundrule_plan::reader::{Reader, quote};
use groundrule_plan::{At, Fault};
use groundrule_site::Parameter;

use super::{Context, did_you_mean, known};
use crate::formula::{Scope, Sort};
use crate::written::{SelectorTable, With};
use crate::{Having, Selector};

impl Context<'_> {
    /// A selector; what is wrong in it is told and left out.
    pub(super) fn selector(&self, table: SelectorTable, reader: &mut Reader<'_>) -> Selector {
        let kinds: Vec<String> = table.kind.into_iter().flat_map(|few| few.0).map(|kind| kind.0).collect();
        let mut selector = Selector {
            kinds,
            except: table.except.into_iter().flat_map(|few| few.0).map(|kind| kind.0).collect(),
            status: table.status.map(|few| few.0).unwrap_or_default(),
            roles: table.role.map(|few| few.0).unwrap_or_default(),
            optional: table.optional.unwrap_or_default(),
            ..Selector::default()
        };
        for class in table.class.into_iter().flat_map(|few| few.0) {
            if !self.classes.contains(&class.value.0) {
                let fault = Fault::new(
                    "pack::unknown-class",
                    format!("This pack has no class {}.", quote(&class.value.0)),
                    class.span,
                    "not known",
                );
                let near = did_you_mean(&class.value.0, self.classes.iter().map(String::as_str));
                reader.tell(fault.with_help(
                    near.unwrap_or_else(|| "A class is made with a `[[class]]` table.".to_owned()),
                ));
            }
            selector.classes.push(class.value.0);
        }
        for (name, asked) in table.having.map(|having| having.0).unwrap_or_default() {
            if let Some(having) = having(&name, &asked, &selector.kinds, reader) {
                selector.having.insert(name.value, having);
            }
        }
        selector
    }
}

fn having(name: &At<String>, asked: &With, kinds: &[String], reader: &mut Reader<'_>) -> Option<Having> {
    let nothing = BTreeMap::new();
    let scope = Scope { kinds: reader.kinds, subject: kinds, other: &[], reading: &nothing };
    let sort = known("subject", name, &scope, reader)?;
    match (sort, asked) {
        (Sort::Flag, With::Flag(flag)) => Some(Having::Flag(*flag)),
        (_, With::Flag(true)) => Some(Having::Stated),
        (_, With::Flag(false)) => Some(Having::Absent),
        (Sort::Text, With::Text(text)) => Some(Having::Text(text.clone())),
        _ => {
            let message = format!("A selector can ask whether `{}` is stated, or for a text.", name.value);
            let help = "Write `true` or `false`; to compare an amount, use `when` or a class.";
            reader.fault_help("pack::wrong-type", message, name.span, "neither", help)
        }
    }
}

/// What shapes a measurement.
pub(super) fn parameter(value: With) -> Parameter {
    match value {
        With::Flag(flag) => Parameter::Flag(flag),
        With::Count(count) => Parameter::Count(count),
        With::List(texts) => Parameter::List(texts),
        With::Amount(quantity) => Parameter::Quantity(quantity),
        With::Text(text) => Parameter::Text(text),
    }
}
