//! Text to a tree of TOML values, with what is wrong in the text said in plain words.

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
            let (faults, torn): (Vec<Fault>, Vec<Option<Span>>) =
                slips.iter().map(|error| slip(error, text, tree.get_ref())).unzip();
            faults.into_iter().for_each(|fault| reader.tell(fault));
            reader.torn = torn.into_iter().flatten().collect();
            tree
        }
    };
    let span = tree.span();
    Some(Spanned::new(span, DeValue::Table(tree.into_inner())))
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
    let mut first = said.chars();
    let message =
        first.next().map_or_else(String::new, |c| format!("{}{}.", c.to_uppercase(), first.as_str()));
    let fault = Fault::new("plan::syntax", message, at, "here");
    (Fault { help: advice(said, line), ..fault }, Some(lines))
}

/// What to do about the slips that people make most.
fn advice(said: &str, line: &str) -> Option<String> {
    let (before, after) = line.split_once('=').unwrap_or(("", line));
    let inches = after.matches('"').count() > 2 && after.contains(|c: char| c.is_ascii_digit());
    let bare = after.trim();
    if inches {
        return Some(
            "An inch mark inside quotes needs a backslash: `\"12'-4 1/2\\\"\"`; or write `\"12 ft 4 1/2 in\"`.".to_owned(),
        );
    }
    if said.contains("must be quoted") && !bare.is_empty() {
        return Some(format!(
            "Text stands in double quotes: `{} = \"{}\"`.",
            before.trim(),
            bare.replace('"', "")
        ));
    }
    if said.contains("leading zero") {
        return Some("A number does not begin with 0; leave it out, or put the figure in quotes.".to_owned());
    }
    if said.contains("unclosed") || said.contains("comma") {
        return Some(
            "Members of a list or an inline table are parted by commas, and every bracket is closed."
                .to_owned(),
        );
    }
    None
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
