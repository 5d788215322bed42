//! Small helps for messages: nearest names, lists, quoting.

use std::fmt::Write as _;

use toml::de::DeValue;

use super::{Read, Reader, Shape, Value, span_of};

/// How alike two names must be to be offered one for the other; below it the offer confuses more than it helps.
const ALIKE: f64 = 0.6;

/// The most characters of somebody's text that a message repeats.
const QUOTED_CHARS: usize = 60;

/// The name nearest to the one written, if any is near.
pub fn nearest<'a>(written: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // Long texts are no misspelled names, and comparing them is slow.
    if written.len() > 200 {
        return None;
    }
    let written = written.to_lowercase().replace('_', "-");
    let mut best: Option<(f64, &str)> = None;
    for name in names {
        let other = name.to_lowercase().replace('_', "-");
        let alike = strsim::normalized_damerau_levenshtein(&written, &other).max(
            if other.len() > 3 && written.len() > 3 && (other.contains(&written) || written.contains(&other))
            {
                ALIKE
            } else {
                0.0
            },
        );
        if alike >= ALIKE && best.is_none_or(|(most, _)| alike > most) {
            best = Some((alike, name));
        }
    }
    best.map(|(_, name)| name)
}

/// Names in a sentence: `a`, `b` and `c`; long lists are cut.
pub fn list<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    const MOST: usize = 24;
    let names: Vec<String> = names.into_iter().map(|name| format!("`{name}`")).collect();
    match names.as_slice() {
        [] => "none".to_owned(),
        [one] => one.clone(),
        many if many.len() > MOST => {
            format!("{} and {} more", many[..MOST].join(", "), many.len() - MOST)
        }
        [firsts @ .., last] => format!("{} and {last}", firsts.join(", ")),
    }
}

/// Somebody's text in a message: between backticks, without control characters, not too long.
pub fn quote(text: &str) -> String {
    let mut quoted = String::from("`");
    for (i, c) in text.chars().enumerate() {
        if i == QUOTED_CHARS {
            quoted.push('…');
            break;
        }
        if c.is_control() || super::toml_text::turns_text(c) {
            let _ = write!(quoted, "{}", c.escape_unicode());
        } else {
            quoted.push(c);
        }
    }
    quoted.push('`');
    quoted
}

/// True when a text can be a name: letters, digits, `_` and `-`.
pub fn is_name(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|b| b.is_ascii_alphanumeric() || b == b'_' || b == b'-')
}

/// What to write instead of a value of the wrong type; what was meant, where that is plain.
pub(super) fn instead(shape: &Shape, value: &Value<'_>) -> String {
    let bare = match value.get_ref() {
        DeValue::Integer(number) => Some(number.to_string()),
        DeValue::Float(number) => Some(number.to_string()),
        DeValue::Boolean(flag) => Some(flag.to_string()),
        DeValue::Datetime(date) => Some(date.to_string()),
        _ => None,
    };
    match (shape, bare, value.get_ref().as_str()) {
        (Shape::Text(_), Some(bare), _) => format!("Put it in quotes: `\"{bare}\"`."),
        (Shape::List { of, .. }, _, Some(text)) if matches!(**of, Shape::Text(_)) => {
            format!("Put it in brackets: `[\"{}\"]`.", quote(text).trim_matches('`'))
        }
        (Shape::Flag, _, Some("yes")) => "Write `true`, without quotes.".to_owned(),
        (Shape::Flag, _, Some("no")) => "Write `false`, without quotes.".to_owned(),
        _ => format!("Write, for example, `{}`.", shape.example()),
    }
}

/// What a value is, to be read inside a sentence.
pub(super) fn type_of(value: &Value<'_>) -> &'static str {
    match value.get_ref() {
        DeValue::String(_) => "text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(true) => "`true`",
        DeValue::Boolean(false) => "`false`",
        DeValue::Datetime(_) => "a date or time",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}

/// The fault of a word that is not one of a few.
pub fn unknown_word<T: Read>(value: &Value<'_>, known: &[&str], reader: &mut Reader<'_>) -> Option<T> {
    let Some(written) = value.get_ref().as_str() else {
        return reader.wrong_type::<T, _>(value);
    };
    let message = format!("{} cannot be {}.", reader.where_am_i(), quote(written));
    let near = nearest(written, known.iter().copied()).map(|near| format!("Did you mean `{near}`? "));
    let help = format!("{}It is one of {}.", near.unwrap_or_default(), list(known.iter().copied()));
    reader.fault_help("plan::unknown-word", message, span_of(value), "not one of the words", help)
}

/// Makes a type of a few words readable: each word, its value and its meaning in one list.
#[macro_export]
macro_rules! words {
    ($type:ty { $( $word:literal => $value:expr, $doc:literal; )* }) => {
        impl $crate::reader::Read for $type {
            fn shape() -> $crate::reader::Shape {
                $crate::reader::Shape::Words(vec![
                    $( $crate::reader::Word { word: $word.to_owned(), doc: $doc.to_owned() }, )*
                ])
            }

            fn read(
                value: &$crate::reader::Value<'_>,
                reader: &mut $crate::reader::Reader<'_>,
            ) -> Option<Self> {
                match value.get_ref().as_str() {
                    $( Some($word) => Some($value), )*
                    _ => $crate::reader::unknown_word(value, &[$($word),*], reader),
                }
            }
        }
    };
}
