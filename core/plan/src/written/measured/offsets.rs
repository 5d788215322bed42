//! `[[offsets]]`: stations and offsets from a baseline.

use groundrule_units::{Length, Written};

use super::Measured;
use super::by_point::ByPoint;
use crate::model::{Accuracy, Offset, Offsets, Reading, WallRef};
use crate::reader::{Form, Keys, Read, Reader, Shape, Value, span_of};
use crate::written::sense::Sideways;
use crate::{At, Fault, Name};

crate::table! {
    /// Points by station and offset: so far along a baseline, then so far square off it.
    pub(crate) table OffsetsTable {
        /// The baseline. Stations count from its first point, left and right are as one walks from it.
        required along: WallRef,
        /// For each point its station and its offset.
        required points: ByPoint<StationOffset>,
        /// How well they were read; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `offsets-house-nw-ne`, by its baseline.
        optional id: At<Name>,
    }
}

/// A station, then an offset with its side.
#[derive(Debug)]
pub(crate) struct StationOffset {
    station: At<Written<Length>>,
    offset: At<Written<Length>>,
}

impl Read for StationOffset {
    fn shape() -> Shape {
        let item = Shape::Any(vec![Written::<Length>::shape(), Sideways::shape()]);
        Shape::Form(Form {
            name: "station and offset",
            doc: "A length along the baseline, then a length off it with its side: `[\"12 ft\", \"6 ft left\"]`. On the \
                  line itself the offset is `0`.",
            example: "[\"12 ft\", \"6 ft left\"]",
            of: Box::new(Shape::List { of: Box::new(item), least: 2, most: Some(2) }),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array().map(AsRef::<[Value<'_>]>::as_ref) {
            Some([along, off]) => {
                let station = At::<Written<Length>>::read(along, reader);
                let offset = At::<Sideways>::read(off, reader);
                let (station, offset) = (station?, offset?);
                Some(Self { station, offset: At { value: offset.value.0, span: offset.span } })
            }
            Some(items) => {
                let message = format!("A point off a baseline has two lengths; here are {}.", items.len());
                let help = "Write how far along, then how far off: `[\"12 ft\", \"6 ft left\"]`.";
                reader.fault_help("plan::bad-offset", message, span_of(value), "not two", help)
            }
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

impl Measured for OffsetsTable {
    const SECTION: &'static str = "offsets";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let points = self.points?.0;
        if points.is_empty() {
            let span = keys.key_span("points").unwrap_or(keys.span());
            let fault = Fault::new("plan::no-reading", "No point is read off the baseline.", span, "empty");
            let help = "Write `points = { bed.a = [\"12 ft\", \"6 ft left\"] }`.";
            reader.tell(fault.with_help(help));
            return None;
        }
        let points = points.into_iter().map(|(point, read)| Offset {
            point,
            station: read.value.station,
            offset: read.value.offset,
        });
        Some(Reading::Offsets(Offsets { along: self.along?, points: points.collect() }))
    }
}
