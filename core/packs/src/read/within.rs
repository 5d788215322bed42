//! Places inside a written text.

use std::ops::Range;

use groundrule_plan::reader::Reader;
use groundrule_plan::{At, Fault, Source, Span};

use crate::formula::{Formula, Scope, Sort, Wrong};
use crate::message::{Piece, Placeholder, pieces};

use super::sentence;

/// The place of a part of a written text; the whole text where quotes and escapes hide the part.
pub(super) fn part(source: &Source, text: &At<impl AsRef<str>>, part: Range<usize>) -> Span {
    let written = source.text.get(text.span.start as usize..text.span.end as usize).unwrap_or_default();
    match written.find(text.value.as_ref()) {
        Some(at) if !text.value.as_ref().is_empty() => {
            let byte = |offset: usize| text.span.start + u32::try_from(at + offset).unwrap_or(0);
            Span { start: byte(part.start), end: byte(part.end) }
        }
        _ => text.span,
    }
}

/// A formula, or one fault that shows everything wrong with it.
pub(super) fn formula(
    text: &At<impl AsRef<str>>,
    scope: &Scope<'_>,
    source: &Source,
    reader: &mut Reader<'_>,
) -> Option<Formula> {
    let wrong = match Formula::read(text.value.as_ref(), scope) {
        Ok(formula) => return Some(formula),
        Err(wrong) => wrong,
    };
    let label = |wrong: &Wrong| (part(source, text, wrong.at.clone()), wrong.message.clone());
    let mut help: Vec<String> =
        wrong.iter().filter_map(|wrong| wrong.help.as_deref().map(sentence)).collect();
    help.dedup();
    reader.tell(Fault {
        code: "pack::formula",
        message: "This formula cannot be used.".to_owned(),
        labels: wrong.iter().map(label).collect(),
        help: Some(help.join(" ")).filter(|help| !help.is_empty()),
    });
    None
}

/// A formula that gives yes or no.
pub(super) fn condition(
    text: &At<impl AsRef<str>>,
    scope: &Scope<'_>,
    source: &Source,
    reader: &mut Reader<'_>,
) -> Option<Formula> {
    let formula = formula(text, scope, source, reader)?;
    if formula.sort() == Sort::Flag {
        return Some(formula);
    }
    let message = format!("`when` must give a yes or no; this gives {}.", formula.sort().words());
    reader.fault_help(
        "pack::formula",
        message,
        text.span,
        "not a condition",
        "Compare it with something: `subject.height > feet(6)`.",
    )
}

/// Refuses placeholders that nothing fills.
pub(super) fn message(text: &At<impl AsRef<str>>, source: &Source, reader: &mut Reader<'_>) {
    let known: Vec<String> = Placeholder::ALL.iter().map(|place| format!("`{{{}}}`", place.word())).collect();
    for piece in pieces(text.value.as_ref()) {
        if let Piece::Wrong(at, word) = piece {
            let near = super::did_you_mean(word, Placeholder::ALL.map(Placeholder::word));
            let help = near.unwrap_or_else(|| format!("Between braces stands one of {}.", known.join(", ")));
            let place = part(source, text, at);
            reader.fault_help::<()>(
                "pack::placeholder",
                "Nothing fills this placeholder.",
                place,
                "not known",
                help,
            );
        }
    }
}
