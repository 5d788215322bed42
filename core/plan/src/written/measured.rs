//! Measurements: what every `[[chain]]`, `[[tie]]` and so on has in common, and the id of each.

pub(crate) mod angle;
pub(crate) mod by_point;
pub(crate) mod chain;
pub(crate) mod distance;
pub(crate) mod fact;
pub(crate) mod ids;
pub(crate) mod lengths;
pub(crate) mod level;
pub(crate) mod offsets;
pub(crate) mod tie;
pub(crate) mod traverse;

use std::collections::BTreeSet;
use std::marker::PhantomData;

use toml::de::DeValue;

use super::reference::point;
use crate::model::{Accuracy, PointRef, Reading};
use crate::reader::{Keys, Read, Reader, Shape, Table, Value, span_of};
use crate::{At, Fault, Name, Span};

/// A point by its name alone: its owner, if it has one, and what it is called there.
pub(crate) type PointName = (Option<Name>, Name);

/// The name of a point without the place it is named at.
pub(crate) fn name_of(point: &PointRef) -> PointName {
    (point.owner.clone(), point.point.clone())
}

/// A table of the file that is one measurement.
pub(crate) trait Measured: Table {
    /// The word in its brackets.
    const SECTION: &'static str;

    /// The id it says, and how well it was measured.
    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>);

    /// What was read; nothing when the reader was told of a fault.
    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading>;
}

/// One measurement as far as it could be read.
#[derive(Debug)]
pub(crate) struct Entry {
    pub(crate) id: Option<At<Name>>,
    pub(crate) by: Option<Accuracy>,
    pub(crate) reading: Option<Reading>,
    pub(crate) span: Span,
    /// Every point it may have named, when it could not be read; whoever refers to one is not called wrong as well.
    pub(crate) doubtful: BTreeSet<PointName>,
}

/// All measurements of one section.
#[derive(Debug)]
pub(crate) struct Section<T> {
    pub(crate) entries: Vec<Entry>,
    of: PhantomData<T>,
}

impl<T: Measured> Read for Section<T> {
    fn shape() -> Shape {
        Vec::<T>::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let entries = match value.get_ref() {
            DeValue::Array(items) => items.iter().map(|item| entry::<T>(item, reader)).collect(),
            DeValue::Table(_) => {
                let section = T::SECTION;
                let message = format!("`{section}` is a list, with an entry for each measurement.");
                let fault = Fault::new("plan::wrong-type", message, span_of(value), "one pair of brackets");
                reader.tell(fault.with_help(format!("Write `[[{section}]]` above each, with two pairs.")));
                vec![lost(value)]
            }
            _ => {
                reader.wrong_type::<Self, ()>(value);
                vec![lost(value)]
            }
        };
        Some(Self { entries, of: PhantomData })
    }
}

fn entry<T: Measured>(value: &Value<'_>, reader: &mut Reader<'_>) -> Entry {
    let Some(mut keys) = Keys::of(value) else {
        reader.wrong_type::<T, ()>(value);
        return lost(value);
    };
    let table = T::read_keys(&mut keys, reader);
    keys.refuse_rest::<T>(reader);
    let (id, by) = table.common();
    let span = keys.span();
    match table.reading(&keys, reader) {
        Some(reading) => Entry { id, by, reading: Some(reading), span, doubtful: BTreeSet::new() },
        None => Entry { id, by, ..lost(value) },
    }
}

fn lost(value: &Value<'_>) -> Entry {
    let mut doubtful = BTreeSet::new();
    names_in(value, None, &mut doubtful);
    Entry { id: None, by: None, reading: None, span: span_of(value), doubtful }
}

/// Every text and key under a value that could be the name of a point.
fn names_in(value: &Value<'_>, owner: Option<&str>, names: &mut BTreeSet<PointName>) {
    let name = |text: &str| point(text, Span::default()).map(|point| name_of(&point));
    match value.get_ref() {
        DeValue::String(text) => names.extend(name(text)),
        DeValue::Array(items) => items.iter().for_each(|item| names_in(item, None, names)),
        DeValue::Table(table) => {
            for (key, value) in table {
                let key = key.get_ref();
                names.extend(match owner {
                    Some(owner) => name(&format!("{owner}.{key}")),
                    None => name(key),
                });
                names_in(value, Some(key), names);
            }
        }
        _ => {}
    }
}

/// Says that a measurement lacks one of two keys, or has both; gives nothing.
pub(crate) fn one_key<T>(
    keys: &Keys<'_, '_>,
    ways: &[&'static str],
    what: &str,
    help: &str,
    reader: &mut Reader<'_>,
) -> Option<T> {
    let given: Vec<Span> = ways.iter().filter_map(|way| keys.key_span(way)).collect();
    let fault = match given.as_slice() {
        [first, rest @ ..] => {
            let count = given.len();
            let message = format!("{what} is given in {count} ways.");
            let fault = Fault::new("plan::several-readings", message, *first, "one way");
            rest.iter().fold(fault, |fault, span| fault.with_label(*span, "another"))
        }
        [] => Fault::new("plan::missing-key", format!("{what} is not given."), keys.span(), "in this table"),
    };
    reader.tell(fault.with_help(help));
    None
}

/// The one of these keys that is there, if it is exactly one.
pub(crate) fn given<'k>(keys: &Keys<'_, '_>, ways: &[&'k str]) -> Option<&'k str> {
    let mut given = ways.iter().copied().filter(|way| keys.has(way));
    given.next().filter(|_| given.next().is_none())
}

/// Calls keys that do not go with the one given out of place; true when there are none.
pub(crate) fn refuse_strays(
    keys: &Keys<'_, '_>,
    strays: &[&'static str],
    way: &str,
    reader: &mut Reader<'_>,
) -> bool {
    let mut fits = true;
    for (key, span) in strays.iter().filter_map(|key| Some((key, keys.key_span(key)?))) {
        fits = false;
        let message = format!("`{key}` does not go with `{way}`.");
        let fault = Fault::new("plan::stray-key", message, span, "does not belong here");
        reader.tell(fault.with_help(format!("Take out `{key}`.")));
    }
    fits
}

/// True when two points are different ones; one measured against itself is a fault.
pub(crate) fn differ(a: &PointRef, b: &PointRef, what: &str, reader: &mut Reader<'_>) -> bool {
    if name_of(a) != name_of(b) {
        return true;
    }
    let message = format!("{what} runs from `{}` to itself.", ids::in_words(a));
    let fault =
        Fault::new("plan::same-point", message, b.span, "the same point").with_label(a.span, "as this");
    reader.tell(fault.with_help("Name two different points."));
    false
}
