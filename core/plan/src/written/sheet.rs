//! `[sheet]`: what the sheet itself states, whatever the drawing on it shows.

use std::collections::BTreeMap;

use groundrule_units::{Area, Length, Ratio, Scale, Written, read_orientation, read_scale};

use super::site::WrittenNorth;
use crate::model::{Accuracy, Attribute, CheckedLength, North, Sheet};
use crate::reader::{
    Date, Form, Keys, Read, Reader, Shape, Size, Table, Value, number_or_text, span_of, unread,
};
use crate::{At, Name};

crate::table! {
    /// What the sheet itself states, as the person who receives it reads it. What is drawn stands among the features;
    /// what is here can be compared with that.
    pub(crate) table SheetTable {
        /// Its date.
        optional date: At<Date>,
        /// Its latest revision as written: `"B, 2026-05-02"`.
        optional revision: At<String>,
        /// Its scale as written on it: `1" = 20'`, `1/8" = 1'-0"`, `1:200`.
        optional scale: At<Said>,
        /// A dimension taken off the print with a ruler, to find the scale it was printed at: `{ true = "100 ft",
        /// on_paper = "6.25 in" }`. The longer the better.
        optional checked: Checked,
        /// Where the drawn north arrow points, in the words of `site.north`: `"up"`, `"left"`, `"18 deg clockwise of up"`.
        optional arrow: Arrow,
        /// Its width and height on paper: `["24 in", "18 in"]`.
        optional size: At<PaperSize>,
        /// Who drew it.
        optional drawn_by: At<String>,
        /// Whether the seal or signature of a licensed preparer is on it.
        optional seal: At<bool>,
        /// The owner, as named on it.
        optional owner: At<String>,
        /// The street address.
        optional address: At<String>,
        /// The number of the parcel.
        optional parcel: At<String>,
        /// The description of record: lot, block and plat, or the deed.
        optional record_description: At<String>,
        /// The full width of the street's right-of-way.
        optional right_of_way: At<Size>,
        /// The share of the lot under buildings.
        optional building_coverage: At<Written<Ratio>>,
        /// The share of the lot under roofs and paving.
        optional hard_surface: At<Written<Ratio>>,
        /// Whether `hard_surface` counts the water of pools.
        optional water_counted: At<bool>,
        /// The area to be planted or sown.
        optional landscape_area: At<Written<Area>>,
        /// The interval of the contours drawn on it.
        optional contour_interval: At<Size>,
        /// The general slope of the ground, where no contours are drawn.
        optional ground_slope: At<Written<Ratio>>,
        /// The benchmark and the datum that all its levels count from.
        optional datum: At<String>,
        /// Where the water of the roofs is led.
        optional roof_water: At<String>,
        /// Whether arrows show which way water runs.
        optional drainage_arrows: At<bool>,
        /// Whether the measures against erosion are shown.
        optional erosion_control: At<bool>,
        /// Whether the lines of the required yards are drawn.
        optional setback_lines: At<bool>,
        /// Whether the zoning district and the figures it asks for are written on it.
        optional zone_standards: At<bool>,
        /// Whether a vicinity map shows where the lot lies.
        optional vicinity_map: At<bool>,
        /// Whether a legend explains its lines and symbols.
        optional legend: At<bool>,
        /// Whether a scale bar is drawn, which stays true when the sheet is enlarged or reduced.
        optional scale_bar: At<bool>,
    }
}

crate::table! {
    /// One dimension, by its text and by a ruler.
    pub(crate) table CheckedTable {
        /// The length its text gives it.
        required r#true: Size,
        /// How long it is on the paper.
        required on_paper: PaperLength,
        /// How well the ruler was read; the usual class `ruler` when absent.
        optional by: Accuracy,
    }
}

/// What the sheet states, with its place.
#[derive(Debug)]
pub(crate) struct WrittenSheet(pub(crate) Sheet);

impl Read for WrittenSheet {
    fn shape() -> Shape {
        SheetTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        SheetTable::read(value, reader).map(|table| Self(table.sheet()))
    }
}

impl SheetTable {
    fn sheet(self) -> Sheet {
        let mut attributes = BTreeMap::new();
        let mut state = |key: &str, value: Option<At<Attribute>>| {
            attributes.extend(value.map(|value| (Name(key.to_owned()), value)));
        };
        for (key, text) in [
            ("revision", self.revision),
            ("owner", self.owner),
            ("address", self.address),
            ("parcel", self.parcel),
            ("record_description", self.record_description),
            ("datum", self.datum),
            ("roof_water", self.roof_water),
        ] {
            state(key, text.map(|text| text.map(Attribute::Text)));
        }
        for (key, flag) in [
            ("seal", self.seal),
            ("water_counted", self.water_counted),
            ("drainage_arrows", self.drainage_arrows),
            ("erosion_control", self.erosion_control),
            ("setback_lines", self.setback_lines),
            ("zone_standards", self.zone_standards),
            ("vicinity_map", self.vicinity_map),
            ("legend", self.legend),
            ("scale_bar", self.scale_bar),
        ] {
            state(key, flag.map(|flag| flag.map(Attribute::Flag)));
        }
        for (key, ratio) in [
            ("building_coverage", self.building_coverage),
            ("hard_surface", self.hard_surface),
            ("ground_slope", self.ground_slope),
        ] {
            state(key, ratio.map(|ratio| ratio.map(Attribute::Ratio)));
        }
        for (key, length) in
            [("right_of_way", self.right_of_way), ("contour_interval", self.contour_interval)]
        {
            state(key, length.map(|length| length.map(|length| Attribute::Length(length.0))));
        }
        state("landscape_area", self.landscape_area.map(|area| area.map(Attribute::Area)));
        Sheet {
            date: self.date.map(|date| date.map(|date| date.0)),
            scale: self.scale.map(|scale| scale.map(|scale| scale.0)),
            checked: self.checked.map(|checked| checked.0),
            arrow: self.arrow.map(|arrow| arrow.0),
            drawn_by: self.drawn_by,
            size: self.size.map(|size| size.map(|size| (size.0, size.1))),
            attributes,
            span: self.span,
        }
    }
}

/// A stated scale.
#[derive(Debug)]
pub(crate) struct Said(Written<Scale>);

impl Read for Said {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "scale",
            doc: "A length on paper and the length it stands for, each with its unit: `\"1 in = 20 ft\"`, `\"1/8 in = \
                  1 ft\"`; or `\"1:200\"`.",
            example: "\"1 in = 20 ft\"",
            of: Box::new(Shape::Text("1 in = 20 ft")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        match read_scale(text) {
            Ok(scale) => Some(Self(scale)),
            Err(why) => unread(why, value, reader),
        }
    }
}

/// A dimension taken off the print.
#[derive(Debug)]
pub(crate) struct Checked(CheckedLength);

impl Read for Checked {
    fn shape() -> Shape {
        CheckedTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            return reader.wrong_type::<Self, _>(value);
        };
        let table = CheckedTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<CheckedTable>(reader);
        let ruler = || Accuracy::Class(At { value: Name("ruler".to_owned()), span: table.span });
        let by = if keys.has("by") { table.by? } else { ruler() };
        let (said, on_paper) = (table.r#true?.0, table.on_paper?.0);
        if said.value > on_paper.value {
            return Some(Self(CheckedLength { said, on_paper, by, span: table.span }));
        }
        reader.fault_help(
            "plan::out-of-range",
            "The length on the ground must be more than the length on paper.",
            table.span,
            "as long on paper as on the ground",
            "Write `true` for what the dimension says and `on_paper` for what the ruler says: \
             `{ true = \"100 ft\", on_paper = \"5 in\" }`.",
        )
    }
}

/// Where the drawn arrow points; unlike `site.north` it is seen, so its sense can always be said.
#[derive(Debug)]
pub(crate) struct Arrow(North);

impl Read for Arrow {
    fn shape() -> Shape {
        WrittenNorth::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        match read_orientation(&text) {
            Ok(Written { value: arrow, text, .. }) => {
                let span = span_of(value);
                Some(Self(North { clockwise_of_up: arrow.clockwise_of_up, text, span }))
            }
            Err(why) => unread(why, value, reader),
        }
    }
}

/// A length on paper. A figure of the ground has often slipped in when it is longer than any sheet.
#[derive(Debug)]
pub(crate) struct PaperLength(Written<Length>);

/// Longer than any sheet, and than most rolls that are printed on.
const LONGEST: Length = Length::from_metres(3.0);

impl Read for PaperLength {
    fn shape() -> Shape {
        Size::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let length = Size::read(value, reader)?.0;
        if length.value <= LONGEST {
            return Some(Self(length));
        }
        let message = format!("{} is longer than any sheet of paper.", reader.where_am_i());
        let help = "Write what a ruler on the sheet says, with its unit: `\"24 in\"`, `\"420 mm\"`.";
        reader.fault_help("plan::out-of-range", message, span_of(value), "not on paper", help)
    }
}

/// Width and height of the sheet.
#[derive(Debug)]
pub(crate) struct PaperSize(Written<Length>, Written<Length>);

impl Read for PaperSize {
    fn shape() -> Shape {
        Shape::List { of: Box::new(PaperLength::shape()), least: 2, most: Some(2) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array().map(AsRef::<[Value<'_>]>::as_ref) {
            Some([width, height]) => {
                let (width, height) = (PaperLength::read(width, reader), PaperLength::read(height, reader));
                Some(Self(width?.0, height?.0))
            }
            Some(items) => {
                let message = format!("A sheet has a width and a height; here are {}.", items.len());
                let help = "Write `size = [\"24 in\", \"18 in\"]`.";
                reader.fault_help("plan::bad-size", message, span_of(value), "not two", help)
            }
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use super::*;
    use crate::KindTree;

    /// What packs may ask of the sheet is what a plan may state of it, and what follows from that.
    #[test]
    fn the_kind_has_the_keys_of_the_section() {
        let as_fact = |key: &'static str| if key == "size" { "sheet_size" } else { key };
        let mut keys: BTreeSet<&str> =
            SheetTable::table().fields.iter().map(|field| as_fact(field.key)).collect();
        keys.extend(["inch_printed", "inch_stated"]);
        let kinds = KindTree::standard();
        assert_eq!(kinds.attributes_of("sheet").collect::<BTreeSet<_>>(), keys);
    }
}
