//! Values of a pack file that are more than a text, a number or a table of known keys.

use std::marker::PhantomData;

use groundrule_plan::At;
use groundrule_plan::reader::{
    Form, Read, Reader, Shape, Value, Word, is_name, list, nearest, quote, span_of, unknown_word, unread,
};
use groundrule_units::{Quantity, Written, read_quantity};
use toml::de::DeValue;

use super::FigureBy;
use crate::formula::Sort;

/// One value, or a list of several.
#[derive(Debug)]
pub(crate) struct Few<T>(pub(crate) Vec<T>);

impl<T: Read> Read for Few<T> {
    fn shape() -> Shape {
        Shape::Any(vec![T::shape(), Vec::<T>::shape()])
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::Array(_) => Vec::read(value, reader).map(Self),
            _ => T::read(value, reader).map(|one| Self(vec![one])),
        }
    }
}

/// What the keys of a free table are.
pub(crate) trait FreeKey {
    /// The key in words: `group`.
    const WORDS: &'static str;
    /// True when any text will do.
    const ANY: bool;
}

/// A name of a group, a parameter or a fact.
#[derive(Debug)]
pub(crate) struct Group;

impl FreeKey for Group {
    const WORDS: &'static str = "name";
    const ANY: bool = false;
}

impl FreeKey for String {
    const WORDS: &'static str = "value";
    const ANY: bool = true;
}

/// A table whose keys the writer chooses, in key order.
#[derive(Debug)]
pub(crate) struct Free<K, T>(pub(crate) Vec<(At<String>, T)>, PhantomData<K>);

impl<K: FreeKey, T: Read> Read for Free<K, T> {
    fn shape() -> Shape {
        Shape::Map { keys: K::WORDS, of: Box::new(T::shape()) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(table) = value.get_ref().as_table() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let mut items = Vec::new();
        for (key, value) in table {
            let name = key.get_ref();
            if !K::ANY && !is_name(name) {
                let message = format!("{} cannot be a name.", quote(name));
                reader.fault_help::<()>(
                    "pack::bad-name",
                    message,
                    span_of(key),
                    "not a name",
                    "A name is made of letters, digits, `_` and `-`.",
                );
                continue;
            }
            if let Some(value) = reader.under(name, |reader| T::read(value, reader)) {
                items.push((At { value: name.to_string(), span: span_of(key) }, value));
            }
        }
        Some(Self(items, PhantomData))
    }
}

impl<K, T> Default for Free<K, T> {
    fn default() -> Self {
        Self(Vec::new(), PhantomData)
    }
}

/// The subject of a plan's `[declared]` table.
#[derive(Debug)]
pub(crate) struct Declared(pub(crate) String);

impl Read for Declared {
    fn shape() -> Shape {
        Shape::Text("easements")
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let known: Vec<&str> = reader.kinds.subjects().map(|(name, _)| name).collect();
        match value.get_ref().as_str() {
            Some(text) if known.contains(&text) => Some(Self(text.to_owned())),
            Some(_) => unknown_word(value, &known, reader),
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// The name of a kind that is in force.
#[derive(Clone, Debug)]
pub(crate) struct Kind(pub(crate) String);

impl Read for Kind {
    fn shape() -> Shape {
        Shape::Text("dwelling")
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let kind = String::read(value, reader)?;
        if reader.kinds.get(&kind).is_some() {
            return Some(Self(kind));
        }
        let known: Vec<&str> = reader.kinds.iter().map(|kind| kind.name.as_str()).collect();
        let help = nearest(&kind, known.iter().copied()).map_or_else(
            || format!("The kinds are {}.", list(known.iter().copied())),
            |near| format!("Did you mean `{near}`?"),
        );
        reader.fault_help(
            "pack::unknown-kind",
            format!("There is no kind {}.", quote(&kind)),
            span_of(value),
            "not a kind",
            help,
        )
    }
}

/// A quantity whose unit says what it is.
#[derive(Clone, Debug)]
pub(crate) struct Amount(pub(crate) Written<Quantity>);

impl Read for Amount {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "amount",
            doc: "A figure with its unit, as its source prints it: `\"5 ft\"`, `\"36 in\"`, `\"35 %\"`, `\"200 sq ft\"`.",
            example: "\"5 ft\"",
            of: Box::new(Shape::Text("5 ft")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            let number = value.get_ref().is_float() || value.get_ref().is_integer();
            return if number { unitless(value, reader) } else { reader.wrong_type::<Self, _>(value) };
        };
        match read_quantity(text) {
            Ok(quantity) => Some(Self(quantity)),
            Err(why) => unread(why, value, reader),
        }
    }
}

fn unitless<T>(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<T> {
    let help = "Write the figure with its unit, in quotes: `\"5 ft\"`.";
    reader.fault_help(
        "pack::no-unit",
        "A figure of a limit has a unit.",
        span_of(value),
        "a bare number",
        help,
    )
}

/// The figure of a limit.
#[derive(Debug)]
pub(crate) enum Figure {
    /// A quantity.
    Constant(Written<Quantity>),
    /// A whole number, for checks that count.
    Count(u32),
    /// A figure that depends on the plan.
    By(Box<FigureBy>),
}

impl Read for Figure {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "figure",
            doc: "An amount with its unit, a whole number for a check that counts, or a table that makes the \
                  figure depend on the plan: \
                  `{ by = \"site.district\", values = { R-1 = \"7 ft\" }, else = \"5 ft\" }` or \
                  `{ formula = \"greatest(feet(5), subject.height / 2)\" }`.",
            example: "\"5 ft\"",
            of: Box::new(Shape::Any(vec![Amount::shape(), Shape::Count, FigureBy::shape()])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(_) => Amount::read(value, reader).map(|amount| Self::Constant(amount.0)),
            DeValue::Integer(_) => u32::read(value, reader).map(Self::Count),
            DeValue::Table(_) => FigureBy::read(value, reader).map(|by| Self::By(Box::new(by))),
            DeValue::Float(_) => unitless(value, reader),
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// A value that shapes a measurement, or that a selector asks for.
#[derive(Clone, Debug)]
pub(crate) enum With {
    /// Words.
    Text(String),
    /// A quantity.
    Amount(Quantity),
    /// Yes or no.
    Flag(bool),
    /// A whole number.
    Count(u32),
    /// Several words.
    List(Vec<String>),
}

impl Read for With {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "setting",
            doc: "Words, `true` or `false`, a whole number, or a list of words. A text that begins with a digit is a \
                  quantity with its unit: `\"10 ft\"`.",
            example: "\"10 ft\"",
            of: Box::new(Shape::Any(vec![
                Shape::Text("10 ft"),
                Shape::Flag,
                Shape::Count,
                Vec::<String>::shape(),
            ])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(text) if text.starts_with(|c: char| c.is_ascii_digit()) => {
                Amount::read(value, reader).map(|amount| Self::Amount(amount.0.value))
            }
            DeValue::String(text) => Some(Self::Text(text.to_string())),
            DeValue::Boolean(flag) => Some(Self::Flag(*flag)),
            DeValue::Integer(_) => u32::read(value, reader).map(Self::Count),
            DeValue::Array(_) => Vec::read(value, reader).map(Self::List),
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// The sort of a fact, by its word.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SortWord(pub(crate) Sort);

impl Read for SortWord {
    fn shape() -> Shape {
        let words = Sort::WRITTEN.iter().map(|(word, sort)| Word {
            word: (*word).to_owned(),
            doc: format!("The fact is {}.", sort.words()),
        });
        Shape::Words(words.collect())
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_str().and_then(Sort::written) {
            Some(sort) => Some(Self(sort)),
            None => unknown_word(value, &Sort::WRITTEN.map(|(word, _)| word), reader),
        }
    }
}
