//! `[lot]`: the ring of a lot and its sides.

use groundrule_units::{Area, Written};

use super::path::{Ring, name_corners};
use super::sides::{SideTable, sides};
use crate::model::{Accuracy, Lot};
use crate::reader::{Keys, Map, Read, Reader, Shape, Size, Table, Value};
use crate::{At, Fault, Name};

crate::table! {
    /// A lot.
    pub(crate) table LotTable {
        /// Its name; needed when there are several lots, `lot` when there is one.
        optional id: At<Name>,
        /// Its corners in order, either way round.
        required corners: Ring,
        /// Names of the corners, one for each. A corner without one has the name of the point it stands on, or is `c1`,
        /// `c2` and so on by its number.
        optional names: Vec<At<Name>>,
        /// What its sides are. Each is named by its first and last corner, in the order of `corners`; a side that
        /// bends runs over several.
        optional sides: Map<SideTable>,
        /// How well its corners are known; as `site.by` when absent.
        optional by: Accuracy,
        /// Its area as stated on the sheet or in the record.
        optional area: At<Written<Area>>,
        /// For a lot that comes to a point or is very narrow at the back: how long its rear line is. It is set out inside
        /// the lot, parallel to the front line and as far back as it fits.
        optional pointed_rear: At<Size>,
    }
}

/// A lot as far as it could be read.
#[derive(Debug)]
pub(crate) struct WrittenLot {
    id: Option<At<Name>>,
    has_id: bool,
    span: crate::Span,
    lot: Option<Lot>,
}

impl Read for WrittenLot {
    fn shape() -> Shape {
        LotTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            return reader.wrong_type::<Self, _>(value);
        };
        let table = LotTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<LotTable>(reader);
        let span = keys.span();
        let owner = table.id.as_ref().map_or_else(|| Name("lot".to_owned()), |id| id.value.clone());
        let ring = table.corners.map(|ring| {
            let mut path = ring.0;
            name_corners(&mut path, table.names, Some(&owner), reader);
            path
        });
        let sides = ring.as_ref().map(|ring| sides(ring, table.sides, reader));
        let lot = ring.zip(sides).map(|(ring, sides)| Lot {
            id: At { value: Name("lot".to_owned()), span },
            ring,
            sides,
            by: table.by,
            stated_area: table.area,
            pointed_rear: table.pointed_rear.map(|At { value, span }| At { value: value.0, span }),
            span,
        });
        Some(Self { id: table.id, has_id: keys.has("id"), span, lot })
    }
}

/// The lots with their names, which are added to the names in use; the only lot may go without.
pub(crate) fn lots(written: Vec<WrittenLot>, ids: &mut Vec<At<Name>>, reader: &mut Reader<'_>) -> Vec<Lot> {
    let several = written.len() > 1;
    let mut lots = Vec::new();
    for WrittenLot { id, has_id, span, lot } in written {
        if several && !has_id {
            let fault =
                Fault::new("plan::missing-key", "One of several lots lacks its `id`.", span, "this lot");
            reader.tell(fault.with_help("Add `id = \"lot-1\"`."));
            continue;
        }
        let id = match (has_id, id) {
            (false, _) => At { value: Name("lot".to_owned()), span },
            (true, Some(id)) => id,
            (true, None) => continue,
        };
        ids.push(id.clone());
        lots.extend(lot.map(|lot| Lot { id, ..lot }));
    }
    lots
}
