//! What a line on a plat is, by its abbreviation: `10' PUE`, `ROW`.

use super::length::length;
use super::marks::read_marked;
use super::scan::Scan;
use super::{Kind, Unread, Written, ask, malformed, quoted};
use crate::{Length, LineTerm, SheetUnit};

const KIND: Kind = Kind { noun: "a note on a line", like: "for example 10' PUE, 25' BSBL, ROW or POB" };

/// A note on a line of a plat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LineNote {
    /// The width or distance before the abbreviation.
    pub width: Option<Length>,
    /// What the line is.
    pub term: LineTerm,
}

/// Reads the note on a line: an abbreviation or its meaning in words, with a width before it if it has one.
///
/// # Errors
/// [`Unread::Ask`] for `OHW`: overhead wires, or ordinary high water.
///
/// ```
/// use groundrule_units::{read_line_note, LineTerm};
/// let note = read_line_note("10' PUE", None)?.value;
/// assert_eq!(note.term, LineTerm::PublicUtilityEasement);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_line_note(text: &str, sheet: Option<SheetUnit>) -> Result<Written<LineNote>, Unread> {
    read_marked(text, &KIND, |core| {
        let start = core.char_indices().map(|(at, _)| at).find(|at| is_start_of_term(core, *at));
        let Some(start) = start else {
            return Err(malformed("it ends in no abbreviation that is known here"));
        };
        let (width, word) = core.split_at(start);
        let terms = terms_of(word);
        if let [term] = terms[..] {
            let width = match width.trim() {
                "" => None,
                width => Some(length(width, sheet).map_err(|unread| carry_word(unread, word))?.value),
            };
            return Ok(LineNote { width, term });
        }
        let choices = terms.iter().map(|term| format!("{width}{}", term.meaning()));
        Err(ask(format!("What does {} stand for?", quoted(word)), choices))
    })
}

/// A term stands at the start or behind a space or a mark, and reaches to the end.
fn is_start_of_term(core: &str, at: usize) -> bool {
    !core[..at].ends_with(char::is_alphanumeric) && !terms_of(&core[at..]).is_empty()
}

fn terms_of(word: &str) -> Vec<LineTerm> {
    let means = |term: &LineTerm| {
        let mut names = [term.short(), term.meaning()].into_iter().chain(term.aliases().iter().copied());
        names.any(|name| {
            let mut scan = Scan::new(word);
            scan.take_word(&[(name, ())]).is_some() && scan.is_done()
        })
    };
    LineTerm::ALL.iter().copied().filter(means).collect()
}

fn carry_word(unread: Unread, word: &str) -> Unread {
    match unread {
        Unread::Ask(question) => {
            ask(question.ask, question.choices.iter().map(|choice| format!("{choice} {word}")))
        }
        other @ Unread::Malformed(_) => other,
    }
}
