//! Text to a tree of TOML values, with what is wrong in the text said in plain words.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::{Reader, Value, quote, span_of};
use crate::{Fault, Source, Span};

/// The largest file that is read, in bytes. A plan of 10,000 features has about 3 MB.
pub const SIZE_LIMIT: usize = 32 << 20;

/// The largest file whose every slip of syntax is told; of a larger one only the first is.
const RECOVERY_LIMIT: usize = 1 << 20;

/// Reads the tree of a file; nothing when there is none to read, and then the reader was told why.
///
/// `empty_help` says what to do about a file with nothing in it.
pub fn read_tree<'i>(source: &'i Source, empty_help: &str, reader: &mut Reader<'_>) -> Option<Value<'i>> {
    let text = source.text.as_ref();
    if let Some(fault) = too_large(text).or_else(|| not_text(source)).or_else(|| empty(text, empty_help)) {
        reader.tell(fault);
        return None;
    }
    // Most files have no slip, and the first parser stops at one; only then is it worth collecting them all.
    let tree = match DeTable::parse(text) {
        Ok(tree) => tree,
        Err(first) if text.len() > RECOVERY_LIMIT => {
            let (fault, _) = slip(&first, text, &DeTable::new());
            reader.tell(fault);
            return None;
        }
        Err(_) => {
            let (tree, slips) = DeTable::parse_recoverable(text);
            tell_slips(slips, text, tree.get_ref(), reader);
            tree
        }
    };
    let span = tree.span();
    Some(Spanned::new(span, DeValue::Table(tree.into_inner())))
}

/// Tells of the first slip on each line; those after it mostly follow from it.
fn tell_slips(mut slips: Vec<toml::de::Error>, text: &str, tree: &DeTable<'_>, reader: &mut Reader<'_>) {
    slips.sort_by_key(|error| error.span().map_or(text.len(), |range| range.start));
    let mut torn: BTreeMap<u32, Span> = BTreeMap::new();
    for (i, error) in slips.iter().enumerate() {
        // To look at one more slip costs as much as the file is long.
        if reader.is_full() {
            reader.leave_untold(slips.len() - i);
            break;
        }
        let (fault, lines) = slip(error, text, tree);
        match lines {
            Some(lines) if torn.contains_key(&lines.end) => {}
            Some(lines) => {
                torn.insert(lines.end, lines);
                reader.tell(fault);
            }
            None => reader.tell(fault),
        }
    }
    reader.torn = torn.into_values().collect();
}

fn too_large(text: &str) -> Option<Fault> {
    let mebibytes = |bytes: usize| bytes.div_ceil(1 << 20);
    (text.len() > SIZE_LIMIT).then(|| Fault {
        code: "plan::too-large",
        message: format!("The file has {} MiB.", mebibytes(text.len())),
        labels: Vec::new(),
        help: Some(format!("Files of up to {} MiB are read; split this one.", mebibytes(SIZE_LIMIT))),
    })
}

/// True for characters that turn the direction of text and so make it look other than it is.
pub(super) fn turns_text(c: char) -> bool {
    matches!(c, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A file with a character that no text has; it is named, never shown, for it would reach the terminal.
fn not_text(source: &Source) -> Option<Fault> {
    let foul = |c: char| (c.is_control() && !matches!(c, '\t' | '\n' | '\r')) || turns_text(c);
    let (at, c) = source.text.char_indices().find(|(_, c)| foul(*c))?;
    let (line, column) = source.position(Span::from(at..at).start);
    let (message, help) = if c == '\0' {
        (
            format!("The file is not text: there is a zero byte at line {line}, column {column}."),
            "Name a plain text file; a picture, a PDF or a word processor's file cannot be read.",
        )
    } else {
        (
            format!(
                "There is a character that no text should have, U+{:04X}, at line {line}, column {column}.",
                u32::from(c)
            ),
            "Delete the character; it may be invisible in the editor.",
        )
    };
    Some(Fault { code: "plan::not-text", message, labels: Vec::new(), help: Some(help.to_owned()) })
}

fn empty(text: &str, help: &str) -> Option<Fault> {
    let bare = |line: &str| line.is_empty() || line.starts_with('#');
    text.trim_start_matches('\u{feff}').lines().all(|line| bare(line.trim())).then(|| Fault {
        code: "plan::empty",
        message: "There is nothing in this file.".to_owned(),
        labels: Vec::new(),
        help: Some(help.to_owned()),
    })
}

/// A slip of syntax as a fault, with the lines whose values cannot be trusted because of it.
fn slip(error: &toml::de::Error, text: &str, tree: &DeTable<'_>) -> (Fault, Option<Span>) {
    let end = text.len();
    let range = error.span().map_or(end..end, |range| range.start.min(end)..range.end.min(end));
    let at = Span::from(range.clone());
    let said = error.message();
    if said == "duplicate key" {
        return (duplicate(text.get(range).unwrap_or_default(), at, tree), None);
    }
    let lines = Span::from(line_start(text, range.start)..line_end(text, range.end));
    if said.contains("recursion") || said.contains("recurse") {
        let fault = Fault::new(
            "plan::too-deep",
            "Tables or lists stand inside each other more than 80 deep.",
            at,
            "here",
        );
        return (
            fault.with_help("No plan needs that; look for brackets that were never closed."),
            Some(lines),
        );
    }
    let line = text.get(lines.start as usize..lines.end as usize).unwrap_or_default();
    let before = text.get(lines.start as usize..range.start).unwrap_or_default();
    let (message, help) = in_plain_words(said, line, before.trim().is_empty());
    (Fault::new("plan::syntax", message, at, "here").with_help(help), Some(lines))
}

/// The parser's words for a slip as a person would say them, and what to do about it.
fn in_plain_words(said: &str, line: &str, at_line_start: bool) -> (String, String) {
    let (key, value) = line.split_once('=').map_or(("", line), |(key, value)| (key.trim(), value.trim()));
    let inch_mark = value.matches('"').count() > 2 && value.contains(|c: char| c.is_ascii_digit());
    let unquoted = said.contains("must be quoted") || said.contains("invalid boolean");
    let bare = !key.is_empty() && !value.starts_with(['[', '{', '"', '\'']);
    let left_over = said.contains("unexpected key or value");
    let (message, help) = match said {
        _ if left_over && inch_mark => (
            "The text ends before its line does.",
            "An inch mark inside quotes needs a backslash: `\"12'-4 1/2\\\"\"`; or write `\"12 ft 4 1/2 in\"`.",
        ),
        _ if left_over => (
            "Something is left over after the value.",
            "A line holds one `key = value`; a note begins with `#`.",
        ),
        _ if unquoted && bare => {
            let help = format!("Write `{key} = \"{}\"`.", value.replace('"', ""));
            return ("Text must stand in double quotes.".to_owned(), help);
        }
        _ if unquoted => {
            ("Text must stand in double quotes.", "Or a bracket or brace further up was never closed.")
        }
        _ if line.trim_start().starts_with('{') && said.contains("key") => {
            ("This is not TOML; it looks like JSON.", "Write `key = value` lines under `[section]` headings.")
        }
        _ if said.contains("leading zero") => {
            ("A number cannot begin with 0.", "Leave the 0 out, or put the figure in quotes.")
        }
        _ if said.contains("missing comma") && at_line_start => (
            "The list or table before this line is not closed.",
            "Add its `]` or `}`, or a comma if it goes on.",
        ),
        _ if said.contains("missing comma") => {
            ("A comma is missing.", "Members of a list or an inline table are parted by commas.")
        }
        _ => {
            let mut said = said.to_owned();
            if let Some(first) = said.get_mut(..1) {
                first.make_ascii_uppercase();
            }
            let help = "Look for a missing quote, bracket or comma here or on the line before.";
            return (format!("{said}."), help.to_owned());
        }
    };
    (message.to_owned(), help.to_owned())
}

fn duplicate(written: &str, at: Span, tree: &DeTable<'_>) -> Fault {
    let key = written.trim_matches(['"', '\'']);
    let message = format!("{} stands twice in the same table.", quote(key));
    let fault = Fault::new("plan::duplicate-key", message, at, "again here");
    let fault = fault.with_help("Rename one of the two, or take one out.");
    match last_key_before(tree, key, at.start) {
        Some(first) => fault.with_label(first, "first here"),
        None => fault,
    }
}

/// The last key of this name that starts before a byte; the parser does not say where the first of two stands.
fn last_key_before(tree: &DeTable<'_>, name: &str, byte: u32) -> Option<Span> {
    let mut found: Option<Span> = None;
    let mut tables = vec![tree];
    let mut lists = Vec::new();
    loop {
        let Some(table) = tables.pop() else {
            let Some(list) = lists.pop() else { return found };
            for value in Iterator::map(<[_]>::iter(list), Spanned::get_ref) {
                push(value, &mut tables, &mut lists);
            }
            continue;
        };
        for (key, value) in table {
            let span = span_of(key);
            if key.get_ref() == name && span.start < byte && found.is_none_or(|last| last < span) {
                found = Some(span);
            }
            push(value.get_ref(), &mut tables, &mut lists);
        }
    }
}

type ListOf<'t, 'i> = &'t [Value<'i>];

fn push<'t, 'i>(value: &'t DeValue<'i>, tables: &mut Vec<&'t DeTable<'i>>, lists: &mut Vec<ListOf<'t, 'i>>) {
    match value {
        DeValue::Table(table) => tables.push(table),
        DeValue::Array(list) => lists.push(list),
        _ => {}
    }
}

fn line_start(text: &str, at: usize) -> usize {
    text.as_bytes().iter().take(at).rposition(|byte| *byte == b'\n').map_or(0, |newline| newline + 1)
}

fn line_end(text: &str, at: usize) -> usize {
    text.as_bytes().iter().skip(at).position(|byte| *byte == b'\n').map_or(text.len(), |newline| at + newline)
}
