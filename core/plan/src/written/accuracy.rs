//! `[accuracy]`, and the `by` that names one of its classes.

use groundrule_units::{Angle, Length, Ratio, Written};
use toml::de::DeValue;

use super::angles::PlainAngle;
use super::place::zero;
use super::usual;
use crate::model::{Accuracy, AccuracyClass, ClassOrigin, OfEach};
use crate::reader::{Form, Keys, NotNegative, Read, Reader, Shape, Table, Value, span_of};
use crate::{At, Name, Span};

crate::table! {
    /// How good one way of measuring is; each figure holds 95 times in a hundred.
    pub(crate) table ClassTable {
        /// The plus-or-minus of a length or a position.
        optional plus_minus: NotNegative,
        /// What errs by that.
        optional of_each: OfEach,
        /// A further share of the length, added as squares are: sag and stretch of a tape, counting paces.
        optional of_length: Share,
        /// The plus-or-minus of an angle or a bearing.
        optional angle: PlainAngle,
    }
}

crate::words! { OfEach {
    "length" => Self::Length, "each length, as of a tape";
    "position" => Self::Position, "each position read off a picture or a map; a length between two errs by both";
} }

/// A share from none to the whole.
#[derive(Debug)]
pub(crate) struct Share(Ratio);

impl Read for Share {
    fn shape() -> Shape {
        Written::<Ratio>::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let share = Written::<Ratio>::read(value, reader)?.value;
        if share >= Ratio::ZERO && share <= Ratio::from_percent(100.0) {
            return Some(Self(share));
        }
        let message = format!("{} must lie between 0 and 100 %.", reader.where_am_i());
        let help = "Write the share of a length it may be off: `\"0.1 %\"`.";
        reader.fault_help("plan::out-of-range", message, span_of(value), "out of range", help)
    }
}

/// A class as written: a plus-or-minus, or a table with one figure or more.
#[derive(Debug)]
pub(crate) struct WrittenClass {
    plus_minus: Option<Written<Length>>,
    of_each: Option<OfEach>,
    of_length: Option<Ratio>,
    angle: Option<Angle>,
    span: Span,
}

impl Read for WrittenClass {
    fn shape() -> Shape {
        Shape::Any(vec![NotNegative::shape(), ClassTable::shape()])
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let span = span_of(value);
        let Some(mut keys) = Keys::of(value) else {
            let (DeValue::String(_) | DeValue::Integer(_) | DeValue::Float(_)) = value.get_ref() else {
                return reader.wrong_type::<Self, _>(value);
            };
            let plus_minus = Some(NotNegative::read(value, reader)?.0);
            return Some(Self { plus_minus, of_each: None, of_length: None, angle: None, span });
        };
        let table = ClassTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<ClassTable>(reader);
        if !["plus_minus", "of_length", "angle"].iter().any(|key| keys.has(key)) {
            let message = format!("{} has no figure.", reader.where_am_i());
            let help = "Add `plus_minus = \"1/2 in\"`, `of_length = \"0.1 %\"` or `angle = \"1 deg\"`.";
            return reader.fault_help("plan::missing-key", message, span, "no plus-or-minus", help);
        }
        Some(Self {
            plus_minus: table.plus_minus.map(|length| length.0),
            of_each: table.of_each,
            of_length: table.of_length.map(|share| share.0),
            angle: table.angle.map(|angle| angle.0),
            span,
        })
    }
}

impl WrittenClass {
    /// The class of this name; what is left out is as usual for it.
    pub(crate) fn named(self, name: &Name) -> AccuracyClass {
        let usual = usual::class(name);
        let base = usual.unwrap_or_else(|| AccuracyClass::plain(zero(), self.span));
        AccuracyClass {
            plus_minus: self.plus_minus.unwrap_or(base.plus_minus),
            of_each: self.of_each.unwrap_or(base.of_each),
            of_length: self.of_length.unwrap_or(base.of_length),
            angle: self.angle.unwrap_or(base.angle),
            origin: ClassOrigin::Plan,
            span: self.span,
        }
    }

    /// The class of no name.
    fn own(self) -> AccuracyClass {
        self.named(&Name(String::new()))
    }
}

impl Read for Accuracy {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "accuracy",
            doc: "How well something was placed or measured: the name of a class of `[accuracy]`, one of the \
                  [usual classes](#usual-classes), or figures of its own (`{ plus_minus = \"2 in\" }`).",
            example: "\"tape\"",
            of: Box::new(Shape::Any(vec![Name::shape(), ClassTable::shape()])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(_) => At::<Name>::read(value, reader).map(Self::Class),
            DeValue::Table(_) => Some(Self::Own(Box::new(WrittenClass::read(value, reader)?.own()))),
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}
