//! Lists, and tables whose keys a person chooses.

use toml::de::DeValue;

use super::{Read, Reader, Shape, Value, span_of};
use crate::{At, Name};

/// A list; what is wrong in one member does not hide what is wrong in the next.
impl<T: Read> Read for Vec<T> {
    fn shape() -> Shape {
        Shape::List { of: Box::new(T::shape()), least: 0, most: None }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array() {
            Some(items) => Some(items.iter().filter_map(|item| T::read(item, reader)).collect()),
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// One table, or several in a list: `[lot]` or `[[lot]]`.
#[derive(Debug)]
pub struct OneOrMore<T>(pub Vec<T>);

impl<T: Read> Read for OneOrMore<T> {
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

/// A table whose keys are names a person chooses, in file order.
///
/// A value that is wrong leaves its name with nothing, so that what refers to it is not called unknown.
#[derive(Debug)]
pub struct Map<T>(pub Vec<(At<Name>, Option<T>)>);

impl<T: Read> Read for Map<T> {
    fn shape() -> Shape {
        Shape::Map { keys: "name", of: Box::new(T::shape()) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(table) = value.get_ref().as_table() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let mut entries: Vec<_> = table.iter().collect();
        entries.sort_by_key(|(key, _)| key.span().start);
        let entries = entries.into_iter().filter_map(|(key, value)| {
            let span = span_of(key);
            let name = super::scalars::name(key.get_ref(), span, reader)?;
            let value = reader.under(&name.0, |reader| T::read(value, reader));
            Some((At { value: name, span }, value))
        });
        Some(Self(entries.collect()))
    }
}
