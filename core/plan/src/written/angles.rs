//! Angles that need no sense.

use groundrule_units::{Angle, read_angle};

use crate::reader::{Form, Read, Reader, Shape, Value, number_or_text, span_of, unread};

/// An angle from 0 to 180 degrees.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct PlainAngle(pub(crate) Angle);

impl Read for PlainAngle {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "plain angle",
            doc: "From 0 to 180 degrees, without a sense: `\"88.5 deg\"`, `\"91°30'\"`; a bare number is degrees.",
            example: "\"88.5 deg\"",
            of: Box::new(Shape::Any(vec![Shape::Text("88.5 deg"), Shape::Number("88.5")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        let angle = match read_angle(&text) {
            Ok(angle) => angle.value,
            Err(why) => return unread(why, value, reader),
        };
        if angle >= Angle::ZERO && angle <= Angle::from_degrees(180.0) {
            return Some(Self(angle));
        }
        let message = format!("{} must lie between 0 and 180 degrees.", reader.where_am_i());
        let help = "Write it without a sense, the smaller of the two ways round: `88.5 deg`.";
        reader.fault_help("plan::out-of-range", message, span_of(value), "out of range", help)
    }
}
