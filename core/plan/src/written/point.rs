//! `[points]`: places with names.

use toml::de::DeValue;

use super::place::{Pair, PlaceTable};
use crate::model::{Accuracy, NamedPoint, Place, PointRef};
use crate::reader::{Keys, Read, Reader, Shape, Table, Value};
use crate::{At, Name};

crate::table! {
    /// A named point with more than its coordinates.
    pub(crate) table PointTable {
        flatten place: PlaceTable,
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
                Some(Self { place: table.place.place(&keys, reader)?, by: table.by })
            }
            DeValue::String(_) | DeValue::Array(_) => {
                Some(Self { place: Place::read(value, reader)?, by: None })
            }
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}
