//! How one thing names another: `oak`, `house.ne`, and the wall `house.sw-se`.

use toml::de::DeValue;

use crate::model::{PointRef, WallRef};
use crate::reader::{Form, Read, Reader, Shape, Value, is_name, quote, span_of};
use crate::{Name, Span};

impl Read for PointRef {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "point name",
            doc: "A point of `[points]` or of a measurement (`\"oak\"`), the corner of a feature or lot (`\"house.ne\"`), or a feature that \
                  is itself a point or a circle.",
            example: "\"house.ne\"",
            of: Box::new(Shape::Text("house.ne")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let span = span_of(value);
        point(text, span).or_else(|| {
            let message = format!("{} cannot name a point.", quote(text));
            let help = "Name a point (`oak`) or the corner of a thing (`house.ne`): letters, digits, `_` and `-`, with \
                        one dot between thing and corner.";
            reader.fault_help("plan::bad-reference", message, span, "not a name", help)
        })
    }
}

/// The point a text names; nothing when no point can be named so.
pub(crate) fn point(text: &str, span: Span) -> Option<PointRef> {
    let (owner, point) = match text.split_once('.') {
        Some((owner, point)) => (Some(owner), point),
        None => (None, text),
    };
    let named = owner.is_none_or(is_name) && is_name(point);
    named.then(|| PointRef {
        owner: owner.map(|owner| Name(owner.to_owned())),
        point: Name(point.to_owned()),
        span,
    })
}

impl Read for WallRef {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "wall",
            doc: "From one corner to another of the same thing (`\"house.sw-se\"`), or two points in a list \
                  (`[\"pin\", \"oak\"]`). Stations count from the first; left and right are as one walks from it.",
            example: "\"house.sw-se\"",
            of: Box::new(Shape::Any(vec![
                Shape::Text("house.sw-se"),
                Shape::List { of: Box::new(PointRef::shape()), least: 2, most: Some(2) },
            ])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(text) => {
                let span = span_of(value);
                wall_splits(text, span).into_iter().next().or_else(|| {
                    let message = format!("{} does not name a wall.", quote(text));
                    let help = "A wall runs between two corners: `house.sw-se`, or `[\"pin\", \"oak\"]`.";
                    reader.fault_help("plan::bad-reference", message, span, "not two corners", help)
                })
            }
            DeValue::Array(ends) => {
                let points: Vec<PointRef> =
                    ends.iter().filter_map(|end| PointRef::read(end, reader)).collect();
                match (<[PointRef; 2]>::try_from(points), ends.len()) {
                    (Ok([from, to]), _) => Some(Self { from, to }),
                    // A name that could not be read has its fault.
                    (Err(_), 2) => None,
                    (Err(_), count) => {
                        let message = format!("A wall runs between two points; here are {count}.");
                        let help = "Write two names: `[\"pin\", \"oak\"]`.";
                        reader.fault_help(
                            "plan::bad-reference",
                            message,
                            span_of(value),
                            "not two points",
                            help,
                        )
                    }
                }
            }
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// Every way to take a text as a wall; more than one where corner names have hyphens of their own.
pub(crate) fn wall_splits(text: &str, span: Span) -> Vec<WallRef> {
    let (owner, corners) = match text.split_once('.') {
        Some((owner, corners)) => (format!("{owner}."), corners),
        None => (String::new(), text),
    };
    let split = |(at, _): (usize, &str)| {
        let (from, to) = (&corners[..at], &corners[at + 1..]);
        Some(WallRef {
            from: point(&format!("{owner}{from}"), span)?,
            to: point(&format!("{owner}{to}"), span)?,
        })
    };
    corners.match_indices('-').filter_map(split).collect()
}

/// The text a wall was read from, if it was one text.
pub(crate) fn wall_text(wall: &WallRef) -> Option<String> {
    let one = wall.from.span == wall.to.span;
    let owner = wall.from.owner.as_ref().map(|owner| format!("{}.", owner.0)).unwrap_or_default();
    one.then(|| format!("{owner}{}-{}", wall.from.point.0, wall.to.point.0))
}
