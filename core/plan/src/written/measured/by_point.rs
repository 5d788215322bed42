//! A table with a key for each point: `{ house.ne = "36.1 ft", pin = "12 ft" }`.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::{DeString, DeTable, DeValue};

use super::{PointName, ids, name_of};
use crate::model::PointRef;
use crate::reader::{Read, Reader, Shape, Value, quote, span_of};
use crate::written::reference::point;
use crate::{At, Fault, Span};

/// What was read at each point, in file order. TOML takes the dot of `house.ne` for a table in a table, which is
/// read as the same name in quotes.
#[derive(Debug)]
pub(crate) struct ByPoint<T>(pub(crate) Vec<(PointRef, At<T>)>);

impl<T: Read> Read for ByPoint<T> {
    fn shape() -> Shape {
        let inner = Shape::Map { keys: "corner", of: Box::new(T::shape()) };
        Shape::Map { keys: "point", of: Box::new(Shape::Any(vec![T::shape(), inner])) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(table) = value.get_ref().as_table() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let mut entries: Vec<Option<(PointRef, At<T>)>> = Vec::new();
        for (key, value) in in_order(table) {
            match value.get_ref() {
                DeValue::Table(corners) => {
                    let owner = key.get_ref().as_ref();
                    entries.extend(
                        in_order(corners)
                            .into_iter()
                            .map(|(key, value)| one(Some(owner), key, value, reader)),
                    );
                }
                _ => entries.push(one(None, key, value, reader)),
            }
        }
        let mut entries = entries.into_iter().collect::<Option<Vec<_>>>()?;
        // Keys of one owner stand together in the table and may stand apart in the file.
        entries.sort_by_key(|(point, _)| point.span);
        each_once(&entries, reader).then_some(Self(entries))
    }
}

fn in_order<'v, 'i>(table: &'v DeTable<'i>) -> Vec<(&'v Spanned<DeString<'i>>, &'v Value<'i>)> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

fn one<T: Read>(
    owner: Option<&str>,
    key: &Spanned<DeString<'_>>,
    value: &Value<'_>,
    reader: &mut Reader<'_>,
) -> Option<(PointRef, At<T>)> {
    let name = match owner {
        Some(owner) => format!("{owner}.{}", key.get_ref()),
        None => key.get_ref().to_string(),
    };
    let span = span_of(key);
    let read = reader.under(&name, |reader| T::read(value, reader));
    let Some(point) = point(&name, span) else {
        let message = format!("{} cannot name a point.", quote(&name));
        let help = "Name a point (`oak`) or the corner of a thing (`house.ne`).";
        return reader.fault_help("plan::bad-reference", message, span, "not a name", help);
    };
    Some((point, At { value: read?, span: span_of(value) }))
}

/// `house.ne` and `"house.ne"` are two keys to TOML and one point to everybody else.
fn each_once<T>(entries: &[(PointRef, At<T>)], reader: &mut Reader<'_>) -> bool {
    let mut first: BTreeMap<PointName, Span> = BTreeMap::new();
    let mut once = true;
    for (point, _) in entries {
        if let Some(before) = first.insert(name_of(point), point.span) {
            once = false;
            let message = format!("`{}` is named twice.", ids::in_words(point));
            let fault = Fault::new("plan::duplicate-key", message, point.span, "again here");
            reader.tell(fault.with_label(before, "first here").with_help("Keep one of the two."));
        }
    }
    once
}
