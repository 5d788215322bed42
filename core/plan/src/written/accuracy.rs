//! `[accuracy]`, and the `by` that names one of its classes.

use groundrule_units::{Length, Written};
use toml::de::DeValue;

use crate::model::{Accuracy, AccuracyClass};
use crate::reader::{Form, NotNegative, Read, Reader, Shape, Value, span_of};
use crate::{At, Name};

impl Read for AccuracyClass {
    fn shape() -> Shape {
        NotNegative::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let plus_minus = NotNegative::read(value, reader)?.0;
        Some(Self::plain(plus_minus, span_of(value)))
    }
}

crate::table! {
    /// An accuracy of its own.
    pub(crate) table OwnAccuracy {
        /// The plus-or-minus that holds 95 times in a hundred.
        required plus_minus: At<PlusMinus>,
    }
}

/// The plus-or-minus of one thing.
#[derive(Debug)]
pub(crate) struct PlusMinus(Written<Length>);

impl Read for PlusMinus {
    fn shape() -> Shape {
        NotNegative::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        NotNegative::read(value, reader).map(|length| Self(length.0))
    }
}

impl Read for Accuracy {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "accuracy",
            doc: "How well something was placed: the name of a class of `[accuracy]`, or a plus-or-minus of its own.",
            example: "\"tape\"",
            of: Box::new(Shape::Any(vec![Name::shape(), OwnAccuracy::shape()])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref() {
            DeValue::String(_) => At::<Name>::read(value, reader).map(Self::Class),
            DeValue::Table(_) => {
                let own = OwnAccuracy::read(value, reader)?.plus_minus?;
                Some(Self::Own(Box::new(AccuracyClass::plain(own.value.0, own.span))))
            }
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}
