//! What qualifies a figure: `(R)` record, `(M)` measured, `~` and `±` approximate.

use std::collections::VecDeque;

use super::scan::plain;
use super::{Kind, Mark, Unread, Written, ask, malformed, quoted};

/// No text of one quantity is longer; it also keeps every number of digits finite.
const LONGEST: usize = 200;

/// A question never leads further than so many texts tried.
const MOST_TRIES: usize = 64;

/// In capitals only: `3 (m)` is a number of metres.
const CAPITALS: &[(&str, Mark)] = &[("(R)", Mark::Record), ("(M)", Mark::Measured)];

const BEHIND: &[(&str, Mark)] = &[
    ("(rec)", Mark::Record),
    ("(rec.)", Mark::Record),
    ("(record)", Mark::Record),
    ("(meas)", Mark::Measured),
    ("(meas.)", Mark::Measured),
    ("(measured)", Mark::Measured),
    ("±", Mark::Approximate),
    ("~", Mark::Approximate),
    ("(approx.)", Mark::Approximate),
    (" approx.", Mark::Approximate),
    (" approx", Mark::Approximate),
    (" more or less", Mark::Approximate),
];

const BEFORE: &[&str] = &["~", "±", "approximately ", "approx.", "approx ", "about "];

/// Takes the marks off, reads what is left, and words a refusal with the text and with what would be read.
///
/// A question comes back [`settled`]: each of its choices reads.
pub(super) fn read_marked<T>(
    text: &str,
    kind: &Kind,
    read: impl Fn(&str) -> Result<T, Unread>,
) -> Result<Written<T>, Unread> {
    settled(text, kind, |text| once(text, kind, &read))
}

/// Reads, and makes a question's choices such that each reads without a question.
///
/// A text may hold two traps: a choice that asks again gives way to its own choices, and one that makes no sense is
/// left out.
pub(super) fn settled<T>(
    text: &str,
    kind: &Kind,
    read: impl Fn(&str) -> Result<T, Unread>,
) -> Result<T, Unread> {
    let question = match read(text) {
        Err(Unread::Ask(question)) => question,
        other => return other,
    };
    let mut choices = Vec::new();
    let mut open: VecDeque<String> = question.choices.into();
    let mut tries = 0..MOST_TRIES;
    while let (Some(choice), Some(_)) = (open.pop_front(), tries.next()) {
        match read(&choice) {
            Ok(_) if !choices.contains(&choice) => choices.push(choice),
            Err(Unread::Ask(deeper)) => {
                for choice in deeper.choices.into_iter().rev() {
                    open.push_front(choice);
                }
            }
            Ok(_) | Err(Unread::Malformed(_)) => {}
        }
    }
    match &choices[..] {
        [] => Err(refusal(text, kind, "it can be taken in several ways and none makes sense")),
        [only] => Err(refusal(text, kind, &format!("it only makes sense as {only}"))),
        _ => Err(ask(question.ask, choices)),
    }
}

fn refusal(text: &str, kind: &Kind, why: &str) -> Unread {
    malformed(format!("{} is not {}: {why}; write {}", quoted(text), kind.noun, kind.like))
}

fn once<T>(text: &str, kind: &Kind, read: impl Fn(&str) -> Result<T, Unread>) -> Result<Written<T>, Unread> {
    if text.trim().is_empty() {
        return Err(refusal(text, kind, "it is empty"));
    }
    if text.trim().len() > LONGEST {
        return Err(refusal(text, kind, "it is too long for one figure"));
    }
    let plain = plain(text);
    if let Some(pieces) = two_figures(&plain, &read) {
        return Err(ask(format!("{} gives two figures: which of them counts?", quoted(text)), pieces));
    }
    let (core, marks) = take_marks(&plain);
    if marks.len() > 1 {
        let choices = marks.iter().map(|mark| with_mark(core, *mark));
        return Err(ask(
            format!("{} carries more than one mark: which of them counts?", quoted(text)),
            choices,
        ));
    }
    let mark = marks.first().copied().unwrap_or_default();
    match read(core) {
        Ok(value) => Ok(Written { value, text: text.trim().to_owned(), mark }),
        Err(Unread::Malformed(why)) => Err(refusal(text, kind, &why)),
        Err(Unread::Ask(question)) => {
            Err(ask(question.ask, question.choices.iter().map(|choice| with_mark(choice, mark))))
        }
    }
}

/// The text without its marks, and the different marks found.
fn take_marks(text: &str) -> (&str, Vec<Mark>) {
    let mut core = text;
    let mut marks = Vec::new();
    loop {
        let found = CAPITALS
            .iter()
            .find_map(|(word, mark)| Some((core.strip_suffix(word)?, *mark)))
            .or_else(|| BEHIND.iter().find_map(|(word, mark)| Some((strip_end(core, word)?, *mark))))
            .or_else(|| BEFORE.iter().find_map(|word| Some((strip_start(core, word)?, Mark::Approximate))));
        let Some((rest, mark)) = found else { return (core, marks) };
        core = rest.trim();
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
}

fn strip_end<'a>(text: &'a str, word: &str) -> Option<&'a str> {
    let cut = text.len().checked_sub(word.len())?;
    text.get(cut..)?.eq_ignore_ascii_case(word).then(|| &text[..cut])
}

fn strip_start<'a>(text: &'a str, word: &str) -> Option<&'a str> {
    text.get(..word.len())?.eq_ignore_ascii_case(word).then(|| &text[word.len()..])
}

/// `66.00' (R) 65.8' (M)`: the pieces, when each is a figure with its mark.
fn two_figures<T>(text: &str, read: impl Fn(&str) -> Result<T, Unread>) -> Option<Vec<String>> {
    let pieces: Vec<&str> = text
        .split_inclusive(')')
        .map(|piece| piece.trim_matches([' ', ',', ';', '/', '&']))
        .filter(|piece| !piece.is_empty())
        .collect();
    let is_figure = |piece: &&str| {
        let (core, marks) = take_marks(piece);
        marks.len() == 1 && read(core).is_ok()
    };
    (pieces.len() > 1 && pieces.iter().all(is_figure))
        .then(|| pieces.iter().map(|piece| (*piece).to_owned()).collect())
}

fn with_mark(core: &str, mark: Mark) -> String {
    match mark {
        Mark::Plain => core.to_owned(),
        Mark::Record => format!("{core} (R)"),
        Mark::Measured => format!("{core} (M)"),
        Mark::Approximate => format!("~{core}"),
    }
}
