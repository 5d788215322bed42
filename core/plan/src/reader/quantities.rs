//! Lengths, areas and shares, as numbers or as people write them.

use std::borrow::Cow;

use groundrule_units::{
    Area, Flow, Length, Ratio, SheetUnit, Speed, Time, Unread, Written, read_area, read_flow, read_length,
    read_ratio, read_speed, read_time,
};
use toml::de::DeValue;

use super::{Form, Read, Reader, Shape, Value, quote, span_of};
use crate::{Fault, Gravity, Remark};

/// A single length beyond this asks whether its unit is right: no garden has one, a slipped unit soon does.
const ABSURD: Length = Length::from_metres(10_000.0);

/// The text of a number or a string; a number that is none, or infinite, is a fault.
pub fn number_or_text<'v, T: Read>(value: &'v Value<'_>, reader: &mut Reader<'_>) -> Option<Cow<'v, str>> {
    let number = match value.get_ref() {
        DeValue::String(text) => return Some(Cow::Borrowed(text.as_ref())),
        DeValue::Integer(number) if number.radix() == 10 => return Some(Cow::Borrowed(number.as_str())),
        DeValue::Integer(number) => {
            i64::from_str_radix(number.as_str(), number.radix()).ok().map(|n| n.to_string())
        }
        // Written out without an exponent, as a person would.
        DeValue::Float(number) => number
            .as_str()
            .parse::<f64>()
            .ok()
            .filter(|number| number.is_finite())
            .map(|number| number.to_string()),
        _ => return reader.wrong_type::<T, _>(value),
    };
    if number.is_none() {
        let message = format!("{} must be a finite number.", reader.where_am_i());
        return reader.fault_help(
            "plan::not-finite",
            message,
            span_of(value),
            "not a finite number",
            "Write the figure as it was measured.",
        );
    }
    number.map(Cow::Owned)
}

/// Tells the reader why a text was not read as a quantity.
pub fn unread<T>(why: Unread, value: &Value<'_>, reader: &mut Reader<'_>) -> Option<T> {
    match why {
        Unread::Malformed(why) => {
            // What is wrong and what would be read come in one sentence; they stand apart in a message.
            let (message, help) = why.split_once("; write ").unwrap_or((&why, ""));
            let fault =
                Fault::new("plan::bad-quantity", format!("{message}."), span_of(value), "not understood");
            reader.tell(if help.is_empty() { fault } else { fault.with_help(format!("Write {help}.")) });
            None
        }
        Unread::Ask(question) => {
            let choices: Vec<String> = question.choices.iter().map(|choice| quote(choice)).collect();
            let help = format!("Write what is meant: {}.", choices.join(" or "));
            reader.fault_help("plan::question", question.ask, span_of(value), "more than one meaning", help)
        }
    }
}

impl Read for Written<Length> {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "length",
            doc: "A number in the unit of `site.units`, or text with its unit: `\"12'-4 1/2\\\"\"`, `\"12 ft 4 in\"`, \
                  `\"12.4 ft\"`, `\"54 in\"`, `\"3.05 m\"`, `\"3050 mm\"`. `(R)` and `(M)` mark record and measured \
                  figures, `~` an approximate one.",
            example: "\"12 ft 4 in\"",
            of: Box::new(Shape::Any(vec![Shape::Text("12 ft 4 in"), Shape::Number("12.4")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let length = length(value, reader)?;
        if length.value.abs() > ABSURD {
            let message = format!("{} is a length of more than 10 km.", quote(&length.text));
            reader.remarks.push(Remark {
                code: "data::absurd-length",
                gravity: Gravity::Suspect,
                message,
                about: reader.about.iter().cloned().collect(),
                spots: Vec::new(),
                span: span_of(value),
                help: Some("Check the unit: was millimetres, inches or feet meant?".to_owned()),
            });
        }
        Some(length)
    }
}

fn length(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Written<Length>> {
    let text = number_or_text::<Written<Length>>(value, reader)?;
    match read_length(&text, reader.units) {
        Ok(length) => {
            if reader.units.is_some_and(|units| names_other_system(&text, units)) {
                reader.other_system.push(span_of(value));
            }
            Some(length)
        }
        Err(why) => unread(why, value, reader),
    }
}

/// True when a text names a metric unit on a sheet in feet or inches, or the other way round.
pub(super) fn names_other_system(text: &str, units: SheetUnit) -> bool {
    let word = |c: char| !c.is_ascii_alphabetic();
    let named = |units: &[&str]| text.split(word).any(|part| units.contains(&part));
    let metric = named(&["m", "mm", "cm", "km"]);
    let imperial = named(&["ft", "in", "feet", "foot", "inch", "inches"])
        || text.contains(['\'', '"', '′', '″', '’', '”']);
    match units {
        SheetUnit::Feet | SheetUnit::Inches => metric,
        SheetUnit::Metres | SheetUnit::Millimetres => imperial,
    }
}

impl Read for Written<Area> {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "area",
            doc: "A number in squares of `site.units`, or text with its unit: `\"8,000 sq ft\"`, `\"0.23 ac\"`, `\"931 m2\"`.",
            example: "\"8,000 sq ft\"",
            of: Box::new(Shape::Any(vec![Shape::Text("8,000 sq ft"), Shape::Number("8000")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        match read_area(&text, reader.units) {
            Ok(area) => Some(area),
            Err(why) => unread(why, value, reader),
        }
    }
}

impl Read for Written<Ratio> {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "ratio",
            doc: "A slope or a share, with its unit: `\"35 %\"`, `\"1/4 in per ft\"`, `\"1 in 50\"`.",
            example: "\"35 %\"",
            of: Box::new(Shape::Any(vec![Shape::Text("35 %"), Shape::Number("0.35")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        match read_ratio(&text) {
            Ok(ratio) => Some(ratio),
            Err(why) => unread(why, value, reader),
        }
    }
}

/// A quantity that names its own unit, which no sheet unit stands in for.
macro_rules! with_its_unit {
    ($quantity:ident, $name:literal, $doc:literal, $text:literal, $example:literal, $read:ident) => {
        impl Read for Written<$quantity> {
            fn shape() -> Shape {
                Shape::Form(Form {
                    name: $name,
                    doc: $doc,
                    example: $example,
                    of: Box::new(Shape::Text($text)),
                })
            }

            fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
                let text = number_or_text::<Self>(value, reader)?;
                $read(&text).map_or_else(|why| unread(why, value, reader), Some)
            }
        }
    };
}

with_its_unit!(
    Flow,
    "flow",
    "Water in a time, with its unit: `\"0.5 cfs\"`, `\"90 gpm\"`, `\"14 L/s\"`.",
    "0.5 cfs",
    "\"0.5 cfs\"",
    read_flow
);
with_its_unit!(
    Speed,
    "speed",
    "A speed, or a rate of rain or of soaking in, with its unit: `\"4 ft/s\"`, `\"0.5 in/h\"`, `\"25 mm/h\"`.",
    "0.5 in/h",
    "\"0.5 in/h\"",
    read_speed
);
with_its_unit!(
    Time,
    "time",
    "How long, with its unit: `\"48 h\"`, `\"10 min\"`.",
    "48 h",
    "\"48 h\"",
    read_time
);

/// A number without a unit, zero or more: a coefficient.
#[derive(Clone, Debug, PartialEq)]
pub struct PlainNumber(pub Ratio);

impl Read for PlainNumber {
    fn shape() -> Shape {
        Shape::Number("0.35")
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        let number = text.trim().parse::<f64>().ok().filter(|number| number.is_finite() && *number >= 0.0);
        if number.is_none() {
            let message = format!("{} must be a number, zero or more, without a unit.", reader.where_am_i());
            let help = "Write the figure alone: `0.35`.";
            return reader.fault_help("plan::bad-number", message, span_of(value), "no such number", help);
        }
        number.map(|number| Self(Ratio::from_fraction(number)))
    }
}

/// One coordinate of a place; it may be large, for grids start far away.
#[derive(Clone, Debug, PartialEq)]
pub struct Coordinate(pub Written<Length>);

impl Read for Coordinate {
    fn shape() -> Shape {
        Written::<Length>::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        length(value, reader).map(Self)
    }
}

/// A length that is more than zero: a width, a radius.
#[derive(Clone, Debug, PartialEq)]
pub struct Size(pub Written<Length>);

impl Read for Size {
    fn shape() -> Shape {
        Written::<Length>::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let length = Written::<Length>::read(value, reader)?;
        if length.value > Length::ZERO {
            return Some(Self(length));
        }
        let message = format!("{} must be more than zero.", reader.where_am_i());
        reader.fault_help("plan::not-positive", message, span_of(value), "zero or less", "Write its size.")
    }
}

/// A length that is zero or more: a plus-or-minus, a clear distance.
#[derive(Clone, Debug, PartialEq)]
pub struct NotNegative(pub Written<Length>);

impl Read for NotNegative {
    fn shape() -> Shape {
        Written::<Length>::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let length = Written::<Length>::read(value, reader)?;
        if length.value >= Length::ZERO {
            return Some(Self(length));
        }
        let message = format!("{} cannot be less than zero.", reader.where_am_i());
        reader.fault_help(
            "plan::negative",
            message,
            span_of(value),
            "less than zero",
            "Leave out the minus sign.",
        )
    }
}
