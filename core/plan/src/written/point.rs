//! `[points]`: places with names.

use toml::de::DeValue;

use super::place::{Pair, PlaceTable};
use crate::model::{Accuracy, NamedPoint, Place, PointRef};
use crate::reader::{Field, Keys, Read, Reader, Shape, Table, Value, list};
use crate::{At, Fault, Name, Span};

crate::table! {
    /// A named point with more than its coordinates.
    pub(crate) table PointTable {
        flatten place: PlaceTable,
        /// Roughly where it stands, when measurements put it there: sheet coordinates that tell mirror images apart.
        optional near: Pair,
        /// How well it was placed; as `site.by` when absent.
        optional by: Accuracy,
    }
}

/// A point that has yet to be told its name.
#[derive(Debug)]
pub(crate) struct WrittenPoint {
    place: Place,
    by: Option<Accuracy>,
}

impl WrittenPoint {
    pub(crate) fn named(self, name: At<Name>) -> NamedPoint {
        NamedPoint { name, place: self.place, by: self.by }
    }
}

impl PointTable {
    /// The point when it has a rough position, beside which nothing else can stand.
    fn near(self, keys: &Keys<'_, '_>, span: Span, reader: &mut Reader<'_>) -> Option<WrittenPoint> {
        let table = Self::table();
        let known = table.fields.iter().map(|field: &Field| field.key);
        let strays: Vec<&str> = known.filter(|key| *key != "near" && keys.has(key)).collect();
        if let Some(at) = strays.first().and_then(|key| keys.key_span(key)) {
            let message = format!("`near` is no measurement; {} cannot stand beside it.", list(strays));
            let fault = Fault::new("plan::stray-key", message, at, "does not belong here");
            let fault = fault.with_label(span, "a rough position");
            reader.tell(fault.with_help("Write `at` for coordinates that count, or keep `near` alone."));
            return None;
        }
        let Pair { x, y } = self.near?;
        Some(WrittenPoint { place: Place::Near { x, y, span: keys.span() }, by: None })
    }
}

impl Read for WrittenPoint {
    fn shape() -> Shape {
        Shape::Any(vec![Pair::shape(), PointTable::shape(), PointRef::shape()])
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::Table(_) => {
                let mut keys = Keys::of(value)?;
                let table = PointTable::read_keys(&mut keys, reader);
                keys.refuse_rest::<PointTable>(reader);
                if let Some(near) = keys.key_span("near") {
                    return table.near(&keys, near, reader);
                }
                Some(Self { place: table.place.place(&keys, reader)?, by: table.by })
            }
            DeValue::String(_) | DeValue::Array(_) => {
                Some(Self { place: Place::read(value, reader)?, by: None })
            }
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}
