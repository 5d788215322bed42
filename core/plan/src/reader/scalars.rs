//! Texts, names, counts, flags and dates.

use toml::de::DeValue;

use super::{Form, Read, Reader, Shape, Value, is_name, quote, span_of};
use crate::{At, Name};

impl Read for String {
    fn shape() -> Shape {
        Shape::Text("Wren Corner")
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_str() {
            Some(text) => Some(text.to_owned()),
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

impl Read for bool {
    fn shape() -> Shape {
        Shape::Flag
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_bool() {
            Some(flag) => Some(flag),
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

impl Read for u32 {
    fn shape() -> Shape {
        Shape::Count
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(written) = value.get_ref().as_integer() else {
            return reader.wrong_type::<Self, _>(value);
        };
        if let Ok(count) = u32::from_str_radix(written.as_str(), written.radix()) {
            return Some(count);
        }
        let message = format!("{} is not a count.", quote(&written.to_string()));
        let help = format!("Write a whole number from 0 to {}.", u32::MAX);
        reader.fault_help("plan::bad-count", message, span_of(value), "out of range", help)
    }
}

/// Any value with its place.
impl<T: Read> Read for At<T> {
    fn shape() -> Shape {
        T::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        Some(Self { value: T::read(value, reader)?, span: span_of(value) })
    }
}

impl Read for Name {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "name",
            doc: "Letters, digits, `_` and `-`. A dot joins an owner and its corner (`house.ne`), a hyphen the \
                  two corners of a wall or side (`house.sw-se`).",
            example: "\"house\"",
            of: Box::new(Shape::Text("house")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_str() {
            Some(text) => name(text, span_of(value), reader),
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// A text as a name, or a fault that offers the nearest text that could be one.
pub(super) fn name(text: &str, span: crate::Span, reader: &mut Reader<'_>) -> Option<Name> {
    if is_name(text) {
        return Some(Name(text.to_owned()));
    }
    let message = format!("{} cannot be a name.", quote(text));
    let allowed: String = text
        .trim()
        .chars()
        .take(40)
        .map(|c| if c.is_ascii_alphanumeric() || c == '_' { c } else { '-' })
        .collect();
    let help = match allowed.trim_matches('-') {
        "" => "A name is made of letters, digits, `_` and `-`.".to_owned(),
        allowed => format!("A name is made of letters, digits, `_` and `-`; `{allowed}` would do."),
    };
    reader.fault_help("plan::bad-name", message, span, "not a name", help)
}

/// A day, `YYYY-MM-DD`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Date(pub String);

impl Read for Date {
    fn shape() -> Shape {
        Shape::Date
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let written = match value.get_ref() {
            DeValue::Datetime(written) => written.to_string(),
            DeValue::String(text) => text.to_string(),
            _ => return reader.wrong_type::<Self, _>(value),
        };
        // The TOML date reader knows the lengths of the months; a text gets the same test.
        match written.parse::<toml::value::Datetime>() {
            Ok(date) if date.date.is_some() && date.time.is_none() => Some(Self(written)),
            _ => {
                let message = format!("{} is not a date.", quote(&written));
                let help = "Write year, month and day: `2026-05-01`.";
                reader.fault_help("plan::bad-date", message, span_of(value), "not a day", help)
            }
        }
    }
}
