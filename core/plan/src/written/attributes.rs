//! The attributes of a feature, checked against its kind.

use std::collections::BTreeMap;

use toml::Spanned;
use toml::de::DeString;

use crate::kinds::AttributeKind;
use crate::model::Attribute;
use crate::reader::{
    Field, Keys, Levels, PlainNumber, Read, Reader, Shape, Table, Value, list, nearest, quote, span_of,
};
use crate::{At, Fault, KindTree, Name};

/// Reads every key that the table itself does not know as an attribute of the kind.
///
/// Without a kind that is known, an attribute of any kind will do.
pub(crate) fn attributes<T: Table>(
    keys: &Keys<'_, '_>,
    kind: Option<&str>,
    reader: &mut Reader<'_>,
) -> BTreeMap<Name, At<Attribute>> {
    let kinds = reader.kinds;
    let mut attributes = BTreeMap::new();
    for (key, value) in keys.rest() {
        let name = key.get_ref().as_ref();
        let holds = match kind {
            Some(kind) => kinds.attribute_of(kind, name),
            None => kinds.attribute(name).map(|attribute| attribute.kind),
        };
        let Some(holds) = holds else {
            let fault = unknown::<T>(key, kind, kinds);
            reader.tell(fault);
            continue;
        };
        if let Some(read) = reader.under(name, |reader| attribute(holds, value, reader)) {
            attributes.insert(Name(name.to_owned()), At { value: read, span: span_of(value) });
        }
    }
    attributes
}

fn attribute(holds: AttributeKind, value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Attribute> {
    match holds {
        AttributeKind::Length => Read::read(value, reader).map(Attribute::Length),
        AttributeKind::Lengths => Read::read(value, reader).map(Attribute::Lengths),
        AttributeKind::Level => Read::read(value, reader).map(Attribute::Level),
        AttributeKind::Levels => Levels::read(value, reader).map(|levels| Attribute::Levels(levels.0)),
        AttributeKind::Area => Read::read(value, reader).map(Attribute::Area),
        AttributeKind::Ratio => Read::read(value, reader).map(Attribute::Ratio),
        AttributeKind::Number => PlainNumber::read(value, reader).map(|it| Attribute::Number(it.0)),
        AttributeKind::Flow => Read::read(value, reader).map(Attribute::Flow),
        AttributeKind::Speed => Read::read(value, reader).map(Attribute::Speed),
        AttributeKind::Time => Read::read(value, reader).map(Attribute::Time),
        AttributeKind::Count => Read::read(value, reader).map(Attribute::Count),
        AttributeKind::Flag => Read::read(value, reader).map(Attribute::Flag),
        AttributeKind::Text => Read::read(value, reader).map(Attribute::Text),
    }
}

/// What may be written for an attribute.
pub(crate) fn shape_of(holds: AttributeKind) -> Shape {
    use groundrule_units::{Area, Flow, Length, Level, Ratio, Speed, Time, Written};
    match holds {
        AttributeKind::Length => Written::<Length>::shape(),
        AttributeKind::Lengths => Vec::<Written<Length>>::shape(),
        AttributeKind::Level => Written::<Level>::shape(),
        AttributeKind::Levels => Levels::shape(),
        AttributeKind::Area => Written::<Area>::shape(),
        AttributeKind::Ratio => Written::<Ratio>::shape(),
        AttributeKind::Number => PlainNumber::shape(),
        AttributeKind::Flow => Written::<Flow>::shape(),
        AttributeKind::Speed => Written::<Speed>::shape(),
        AttributeKind::Time => Written::<Time>::shape(),
        AttributeKind::Count => u32::shape(),
        AttributeKind::Flag => bool::shape(),
        AttributeKind::Text => Shape::Text("in"),
    }
}

fn unknown<T: Table>(key: &Spanned<DeString<'_>>, kind: Option<&str>, kinds: &KindTree) -> Fault {
    let name = key.get_ref().as_ref();
    let table = T::table();
    let own: Vec<&str> = kind.map(|kind| kinds.attributes_of(kind).collect()).unwrap_or_default();
    let known = table.fields.iter().map(|field: &Field| field.key).chain(own.iter().copied());
    let near = nearest(name, known);
    let having: Vec<&str> = kinds
        .iter()
        .filter(|kind| kind.attributes.contains_key(name))
        .map(|kind| kind.name.as_str())
        .collect();
    let message = match kind {
        Some(kind) => format!("A feature of kind `{kind}` has no key {}.", quote(name)),
        None => format!("A feature has no key {}.", quote(name)),
    };
    let fault = Fault::new("plan::unknown-key", message, span_of(key), "not known here");
    fault.with_help(match (near, having.is_empty(), own.is_empty()) {
        (_, false, _) => format!("`{name}` is stated of {}.", list(having.iter().copied())),
        (Some(near), ..) => format!("Did you mean `{near}`?"),
        (None, _, false) => format!("What can be stated of it: {}.", list(own.iter().copied())),
        (None, ..) => {
            "The format page lists the keys of a feature and the attributes of each kind.".to_owned()
        }
    })
}
