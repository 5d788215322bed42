//! A place: coordinates, a point, so far from a point, or along a wall.

use groundrule_units::{Length, Mark, Written};
use toml::de::DeValue;

use super::sense::Sideways;
use crate::model::{Place, PointRef, WallRef};
use crate::reader::{Coordinate, Form, Keys, Read, Reader, Shape, Table, Value, list, span_of};
use crate::{Fault, Span};

crate::table! {
    /// A place, by exactly one of `at`, `from` and `along`.
    pub(crate) table PlaceTable {
        /// Sheet coordinates: to the right, then up.
        optional at: Pair,
        /// The point it is set out from, with `right` or `left` and `up` or `down`.
        optional from: PointRef,
        /// So far to the right on the sheet.
        optional right: Written<Length>,
        /// So far to the left on the sheet.
        optional left: Written<Length>,
        /// So far up the sheet.
        optional up: Written<Length>,
        /// So far down the sheet.
        optional down: Written<Length>,
        /// The wall it lies along, with `station` and perhaps `offset`.
        optional along: WallRef,
        /// How far along the wall.
        optional station: Written<Length>,
        /// How far off the wall, and to which side.
        optional offset: Sideways,
    }
}

/// Two coordinates.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pair {
    pub(crate) x: Written<Length>,
    pub(crate) y: Written<Length>,
}

impl Read for Pair {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "coordinates",
            doc: "Two lengths from the origin of the sheet: to the right, then up.",
            example: "[25, 30]",
            of: Box::new(Shape::List { of: Box::new(Coordinate::shape()), least: 2, most: Some(2) }),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array().map(AsRef::<[Value<'_>]>::as_ref) {
            Some([x, y]) => {
                let (x, y) = (Coordinate::read(x, reader), Coordinate::read(y, reader));
                Some(Self { x: x?.0, y: y?.0 })
            }
            Some(items) => {
                let message = format!("Coordinates are two lengths; here are {}.", items.len());
                let help = "Write `[to the right, up]`, for example `[25, 30]`.";
                reader.fault_help("plan::bad-coordinates", message, span_of(value), "not two", help)
            }
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

impl Read for Place {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "place",
            doc: "A point by name, coordinates, so far right and up from a point, or so far along a wall and off it.",
            example: "[25, 30]",
            of: Box::new(Shape::Any(vec![Pair::shape(), PointRef::shape(), PlaceTable::shape()])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(_) => PointRef::read(value, reader).map(Self::Point),
            DeValue::Array(_) => {
                let Pair { x, y } = Pair::read(value, reader)?;
                Some(Self::At { x, y, span: span_of(value) })
            }
            DeValue::Table(_) => {
                let mut keys = Keys::of(value)?;
                let table = PlaceTable::read_keys(&mut keys, reader);
                keys.refuse_rest::<PlaceTable>(reader);
                table.place(&keys, reader)
            }
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// The keys that go with each of the three ways to give a place.
const WAYS: [(&str, &[&str]); 3] =
    [("at", &[]), ("from", &["right", "left", "up", "down"]), ("along", &["station", "offset"])];

impl PlaceTable {
    /// The place the keys give, which must fit together.
    pub(crate) fn place(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Place> {
        let given: Vec<&str> = WAYS.iter().map(|(way, _)| *way).filter(|way| keys.has(way)).collect();
        let [way] = given.as_slice() else {
            tell_ways(&given, keys, reader);
            return None;
        };
        let fits = refuse_strays(way, keys, reader);
        let span = keys.span();
        let right = one_of(self.right, self.left, ["right", "left"], keys, reader);
        let up = one_of(self.up, self.down, ["up", "down"], keys, reader);
        if !fits {
            return None;
        }
        match (self.at, self.from, self.along) {
            (Some(Pair { x, y }), _, _) => Some(Place::At { x, y, span }),
            (_, Some(base), _) => Some(Place::From { base: Box::new(base), right: right?, up: up?, span }),
            (_, _, Some(wall)) => {
                if !keys.has("station") {
                    let help = "Add `station = \"4 ft\"`: how far along the wall from its first corner.";
                    let message = "A place along a wall lacks its `station`.";
                    return reader.fault_help("plan::missing-key", message, span, "in this place", help);
                }
                let offset = if keys.has("offset") { self.offset?.0 } else { zero() };
                Some(Place::Along { wall: Box::new(wall), station: self.station?, offset, span })
            }
            _ => None,
        }
    }
}

fn tell_ways(given: &[&str], keys: &Keys<'_, '_>, reader: &mut Reader<'_>) {
    let help = "Write `{ at = [25, 30] }`, `{ from = \"house.ne\", right = \"4 ft\", up = 0 }` or \
                `{ along = \"house.sw-se\", station = \"4 ft\" }`.";
    let fault = if given.is_empty() {
        Fault::new("plan::no-place", "Nothing says where this is.", keys.span(), "no `at`, `from` or `along`")
    } else {
        let message = format!("The place is given in {} ways: {}.", given.len(), list(given.iter().copied()));
        let mut spans = given.iter().filter_map(|way| keys.key_span(way));
        let fault = Fault::new("plan::two-places", message, spans.next().unwrap_or(keys.span()), "one way");
        spans.fold(fault, |fault, span| fault.with_label(span, "another"))
    };
    reader.tell(fault.with_help(help));
}

/// Keys that belong to another way of giving a place are faults; true when there are none.
fn refuse_strays(way: &str, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> bool {
    let mut fits = true;
    for (other, its_keys) in WAYS.iter().filter(|(other, _)| *other != way) {
        for (key, span) in its_keys.iter().filter_map(|key| Some((key, keys.key_span(key)?))) {
            fits = false;
            let message = format!("`{key}` goes with `{other}`, not with `{way}`.");
            let fault = Fault::new("plan::stray-key", message, span, "does not belong here");
            reader.tell(fault.with_help(format!("Take out `{key}`, or write `{other}` instead of `{way}`.")));
        }
    }
    fits
}

/// A distance given one way or the opposite way; zero when neither.
fn one_of(
    plus: Option<Written<Length>>,
    minus: Option<Written<Length>>,
    names: [&str; 2],
    keys: &Keys<'_, '_>,
    reader: &mut Reader<'_>,
) -> Option<Written<Length>> {
    match names.map(|name| keys.key_span(name)) {
        [None, None] => Some(zero()),
        [Some(_), None] => plus,
        [None, Some(_)] => minus.map(|length| Written { value: -length.value, ..length }),
        [Some(first), Some(second)] => {
            let message = format!("`{}` and `{}` say two things of the same.", names[0], names[1]);
            let fault = Fault::new("plan::two-places", message, first, "one").with_label(second, "the other");
            reader.tell(fault.with_help("Keep one of them."));
            None
        }
    }
}

pub(crate) fn zero() -> Written<Length> {
    Written { value: Length::ZERO, text: "0".to_owned(), mark: Mark::Plain }
}

/// Where a place is written.
pub(crate) fn span_of_place(place: &Place) -> Span {
    match place {
        Place::Near { span, .. }
        | Place::At { span, .. }
        | Place::From { span, .. }
        | Place::Along { span, .. } => *span,
        Place::Point(point) => point.span,
    }
}
