//! Turns and sides that only mean something with their sense: clockwise or not, left or right.

use groundrule_units::{Angle, Length, Written, read_length, read_turn};

use crate::reader::{Form, Read, Reader, Shape, Value, number_or_text, quote, span_of, unread};

/// A turn whose sense must be said; anticlockwise positive.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SaidTurn(pub(crate) Angle);

impl Read for SaidTurn {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "turn",
            doc: "An angle on the sheet with its sense: `\"10 deg counterclockwise\"`, `\"18 deg clockwise\"`.",
            example: "\"10 deg counterclockwise\"",
            of: Box::new(Shape::Any(vec![Shape::Text("10 deg counterclockwise"), Shape::Number("0")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        match read_turn(&text) {
            Ok(turn) => Some(Self(turn.value)),
            Err(why) => unread(why, value, reader),
        }
    }
}

/// A length to one side of the way one goes; left is positive.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Sideways(pub(crate) Written<Length>);

impl Read for Sideways {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "sideways length",
            doc: "A length with its side, as one goes along: `\"3 ft left\"`, `\"3 in right\"`; `0` needs none.",
            example: "\"3 ft left\"",
            of: Box::new(Shape::Any(vec![Shape::Text("3 ft left"), Shape::Number("0")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        let lower = text.trim().to_lowercase();
        let said = [("left", 1.0), ("right", -1.0)].into_iter().find_map(|(word, sign)| {
            let length = lower.strip_suffix(word)?;
            Some((text.trim().get(..length.len())?.trim_end(), sign))
        });
        let (length, sign) = said.unwrap_or((text.trim(), 1.0));
        match read_length(length, reader.units) {
            Ok(read) if said.is_some() || read.value == Length::ZERO => Some(Self(Written {
                value: read.value * sign,
                text: text.trim().to_owned(),
                mark: read.mark,
            })),
            Ok(_) => {
                let message = format!("To which side is {}?", quote(&text));
                let help = format!("Write `{0} left` or `{0} right`, as one goes along.", text.trim());
                reader.fault_help("plan::question", message, span_of(value), "more than one meaning", help)
            }
            Err(why) => unread(why, value, reader),
        }
    }
}
