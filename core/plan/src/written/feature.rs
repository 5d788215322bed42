//! `[[feature]]`: the things on the plan.

use super::attributes::attributes;
use super::geometry::GeometryTable;
use crate::model::{Accuracy, Attribute, Feature, Status};
use crate::reader::{Form, Keys, Read, Reader, Shape, Table, Value, Word, list, nearest, quote, span_of};
use crate::{At, Fault, KindTree, Name};

crate::table! {
    /// A thing on the plan.
    pub(crate) table FeatureTable {
        /// Its name, unique among features and lots.
        required id: At<Name>,
        /// What it is: a name of the tree of kinds.
        required kind: At<KindName>,
        /// Whether it stands, is asked for, or will be taken away.
        optional status: At<Status>,
        /// A longer name for reports.
        optional title: String,
        /// How well it was placed. When absent, proposed work is exactly where it is drawn and all else as `site.by`.
        optional by: Accuracy,
        /// The lot it belongs to; the one it stands on when absent.
        optional lot: At<Name>,
        flatten geometry: GeometryTable,
    }
}

crate::words! { Status {
    "existing" => Self::Existing, "it stands";
    "proposed" => Self::Proposed, "it is asked for";
    "remove" => Self::Remove, "it will be taken away";
} }

/// The name of a kind.
#[derive(Debug)]
pub(crate) struct KindName(String);

impl Read for KindName {
    fn shape() -> Shape {
        let kinds = KindTree::standard();
        let words = kinds.iter().filter(|kind| written_as(&kind.name, &kinds).is_none());
        let words = words.map(|kind| Word { word: kind.name.clone(), doc: kind.doc.clone() }).collect();
        Shape::Form(Form {
            name: "kind",
            doc: "A name of the tree of [kinds](#kinds), or of one that a pack adds.",
            example: "\"dwelling\"",
            of: Box::new(Shape::Any(vec![Shape::Words(words), Shape::Text("dwelling")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let kinds = reader.kinds;
        let span = span_of(value);
        if let Some(help) = written_as(text, kinds) {
            let message = format!("A feature cannot be of kind {}.", quote(text));
            return reader.fault_help("plan::unknown-kind", message, span, "not for features", help);
        }
        if kinds.get(text).is_some() {
            return Some(Self(text.to_owned()));
        }
        let message = format!("There is no kind {}.", quote(text));
        let help = nearest(text, kinds.iter().map(|kind| kind.name.as_str())).map_or_else(
            || {
                let roots = kinds
                    .iter()
                    .filter(|kind| kind.parent.is_none() && written_as(&kind.name, kinds).is_none());
                let roots = list(roots.map(|kind| kind.name.as_str()));
                format!("The widest kinds are {roots}; the format page lists all.")
            },
            |near| format!("Did you mean `{near}`?"),
        );
        reader.fault_help("plan::unknown-kind", message, span, "not a kind", help)
    }
}

/// How to write what has a section of its own; none for a kind of features.
pub(crate) fn written_as(kind: &str, kinds: &KindTree) -> Option<&'static str> {
    if kinds.is_a(kind, "boundary") {
        return Some("Write lots as `[lot]`, and their lines as its `sides`.");
    }
    kinds.is_a(kind, "sheet").then_some("Write what the sheet states as `[sheet]`.")
}

/// True for an attribute that some feature may have; the sheet's stand in a section of their own.
pub(crate) fn is_of_features(attribute: &str, kinds: &KindTree) -> bool {
    let mut having = kinds.iter().filter(|kind| kind.attributes.contains_key(attribute)).peekable();
    having.peek().is_none() || having.any(|kind| written_as(&kind.name, kinds).is_none())
}

/// A feature as far as it could be read.
#[derive(Debug)]
pub(crate) struct WrittenFeature {
    /// Its name, even when the rest has faults.
    pub(crate) id: Option<At<Name>>,
    /// The feature, when it has a name and its shape could be read.
    pub(crate) feature: Option<Feature>,
}

impl Read for WrittenFeature {
    fn shape() -> Shape {
        let mut table = FeatureTable::table();
        table.open = true;
        Shape::Table(table)
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            return reader.wrong_type::<Self, _>(value);
        };
        reader.about = keys.peek("id").and_then(|id| id.get_ref().as_str()).map(|id| Name(id.to_owned()));
        let mut table = FeatureTable::read_keys(&mut keys, reader);
        let kind = table.kind.map(|kind| At { value: kind.value.0, span: kind.span });
        let kind_name = kind.as_ref().map(|kind| kind.value.as_str());
        let mut attributes = attributes::<FeatureTable>(&keys, kind_name, reader);
        // `width` belongs to a line; of a door or an easement without one it is stated.
        let states_width = kind_name.is_some_and(|kind| reader.kinds.attribute_of(kind, "width").is_some());
        if states_width
            && !keys.has("line")
            && let Some((width, at)) = table.geometry.width.take().zip(keys.peek("width"))
        {
            let width = At { value: Attribute::Length(width.0), span: span_of(at) };
            attributes.insert(Name("width".to_owned()), width);
        }
        let geometry = table.geometry.geometry(&keys, reader);
        reader.about = None;
        let span = keys.span();
        // Without its kind the file has a fault already; the rest is kept so that more can be found in it.
        let kind = kind.unwrap_or(At { value: String::new(), span });
        let feature = geometry.ok().zip(table.id.clone()).map(|(geometry, id)| Feature {
            id,
            title: table.title,
            kind,
            status: table.status,
            lot: table.lot,
            geometry,
            by: table.by,
            attributes,
            span,
        });
        Some(Self { id: table.id, feature })
    }
}

/// The list of features; one written with single brackets is told how to write it.
#[derive(Debug)]
pub(crate) struct Features(pub(crate) Vec<WrittenFeature>);

impl Read for Features {
    fn shape() -> Shape {
        Vec::<WrittenFeature>::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        if value.get_ref().is_table() {
            let at = span_of(value);
            let fault = Fault::new("plan::wrong-type", "Features are a list.", at, "one pair of brackets");
            reader
                .tell(fault.with_help("Write `[[feature]]` above each feature, with two pairs of brackets."));
            return None;
        }
        Vec::read(value, reader).map(Self)
    }
}
