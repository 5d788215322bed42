//! A vertex of an outline or a line: a place, perhaps with a name and a curve to the next.

use toml::de::DeValue;

use super::place::PlaceTable;
use super::sense::Sideways;
use crate::model::{Curve, Place, PointRef, Vertex};
use crate::reader::{Form, Keys, Read, Reader, Shape, Table, Value};
use crate::{Fault, Name};

crate::table! {
    /// A vertex with more than its place.
    pub(crate) table VertexTable {
        flatten place: PlaceTable,
        /// The name of this corner.
        optional corner: Name,
        /// A place the circular arc to the next vertex goes through.
        optional through: Place,
        /// The radius of the circular arc to the next vertex, the shorter way round, and the side it turns to.
        optional radius: Sideways,
    }
}

impl Read for Vertex {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "vertex",
            doc: "A place; as a table it may also name its corner and curve to the next vertex.",
            example: "[25, 30]",
            of: Box::new(Shape::Any(vec![
                super::place::Pair::shape(),
                PointRef::shape(),
                VertexTable::shape(),
            ])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let DeValue::Table(_) = value.get_ref() else {
            let place = match value.get_ref() {
                DeValue::String(_) | DeValue::Array(_) => Place::read(value, reader)?,
                _ => return reader.wrong_type::<Self, _>(value),
            };
            return Some(Self { place, corner: None, curve: None });
        };
        let mut keys = Keys::of(value)?;
        let table = VertexTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<VertexTable>(reader);
        let (corner, through, radius) = (table.corner, table.through, table.radius);
        let place = table.place.place(&keys, reader);
        let curve = match ["through", "radius"].map(|key| keys.key_span(key)) {
            [None, None] => None,
            [Some(_), None] => Some(Curve::Through(through?)),
            [None, Some(span)] => {
                let written = radius?.0;
                if written.value == groundrule_units::Length::ZERO {
                    let message = "The radius of an arc must be more than zero.";
                    let help = "Write its radius and the side it turns to: `\"25 ft left\"`.";
                    return reader.fault_help("plan::not-positive", message, span, "zero", help);
                }
                let left = written.value > groundrule_units::Length::ZERO;
                let radius = groundrule_units::Written { value: written.value.abs(), ..written };
                Some(Curve::Radius { radius, left, span })
            }
            [Some(first), Some(second)] => {
                let message = "The curve to the next vertex is given twice.";
                let fault =
                    Fault::new("plan::two-curves", message, first, "one way").with_label(second, "another");
                reader.tell(fault.with_help("Keep `through` or `radius`."));
                return None;
            }
        };
        Some(Self { place: place?, corner, curve: curve.map(Box::new) })
    }
}
