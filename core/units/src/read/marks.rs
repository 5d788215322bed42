//! What qualifies a figure: `(R)` record, `(M)` measured, `~` and `±` approximate.

use super::scan::plain;
use super::{Kind, Mark, Unread, Written, ask, malformed, quoted};

/// No text of one quantity is longer; it also keeps every number of digits finite.
const LONGEST: usize = 200;

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
pub(super) fn read_marked<T>(
    text: &str,
    kind: &Kind,
    read: impl Fn(&str) -> Result<T, Unread>,
) -> Result<Written<T>, Unread> {
    let refuse =
        |why: &str| malformed(format!("{} is not {}: {why}; write {}", quoted(text), kind.noun, kind.like));
    let complete = |unread| match unread {
        Unread::Malformed(why) => refuse(&why),
        question @ Unread::Ask(_) => question,
    };
    if text.trim().is_empty() {
        return Err(refuse("it is empty"));
    }
    if text.trim().len() > LONGEST {
        return Err(refuse("it is too long for one figure"));
    }
    let plain = plain(text);
    if let Some(pieces) = two_figures(&plain, &read) {
        return Err(ask(format!("{} gives two figures: which of them counts?", quoted(text)), pieces));
    }
    let (core, marks) = take_marks(&plain);
    match marks[..] {
        [] | [_] => {
            let mark = marks.first().copied().unwrap_or_default();
            let value = read(core).map_err(|unread| complete(carry_mark(unread, mark)))?;
            Ok(Written { value, text: text.trim().to_owned(), mark })
        }
        _ => {
            read(core).map_err(complete)?;
            let choices = marks.iter().map(|mark| with_mark(core, *mark));
            Err(ask(format!("{} carries more than one mark: which of them counts?", quoted(text)), choices))
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

fn carry_mark(unread: Unread, mark: Mark) -> Unread {
    match unread {
        Unread::Ask(mut question) => {
            for choice in &mut question.choices {
                *choice = with_mark(choice, mark);
            }
            Unread::Ask(question)
        }
        Unread::Malformed(why) => Unread::Malformed(why),
    }
}

fn with_mark(core: &str, mark: Mark) -> String {
    match mark {
        Mark::Plain => core.to_owned(),
        Mark::Record => format!("{core} (R)"),
        Mark::Measured => format!("{core} (M)"),
        Mark::Approximate => format!("~{core}"),
    }
}
