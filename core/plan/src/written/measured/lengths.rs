//! A length as measured, as recorded, or both.

use groundrule_units::{Length, Mark, Written};
use toml::de::DeValue;

use crate::model::Lengths;
use crate::reader::{Form, Read, Reader, Shape, Size, Value, span_of};
use crate::{At, Fault};

impl Read for Lengths {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "reading",
            doc: "A length more than zero; or two in a list, one from the record and one measured: `[\"66.00' (R)\", \
                  \"65.8' (M)\"]`. Without a mark it was measured.",
            example: "\"62 ft\"",
            of: Box::new(Shape::Any(vec![
                Size::shape(),
                Shape::List { of: Box::new(Size::shape()), least: 1, most: Some(2) },
            ])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let mut lengths = Self::default();
        match value.get_ref() {
            DeValue::Array(items) if items.is_empty() => {
                let message = format!("{} is empty.", reader.where_am_i());
                let help = "Write the length, or one from the record and one measured.";
                reader.fault_help("plan::no-reading", message, span_of(value), "no length", help)
            }
            DeValue::Array(items) => {
                let mut sound = true;
                for item in items {
                    sound &= lengths.take(item, reader).is_some();
                }
                sound.then_some(lengths)
            }
            DeValue::String(text) if text.contains("(R)") && text.contains("(M)") => {
                let message = format!("{} has two figures in one text.", reader.where_am_i());
                let help = "Write them as a list: `[\"66.00' (R)\", \"65.8' (M)\"]`.";
                reader.fault_help("plan::two-figures", message, span_of(value), "two figures", help)
            }
            _ => lengths.take(value, reader).map(|()| lengths),
        }
    }
}

/// Adds one figure by its mark.
trait Take {
    fn take(&mut self, value: &Value<'_>, reader: &mut Reader<'_>) -> Option<()>;
}

impl Take for Lengths {
    fn take(&mut self, value: &Value<'_>, reader: &mut Reader<'_>) -> Option<()> {
        let figure: Written<Length> = Size::read(value, reader)?.0;
        let span = span_of(value);
        let (place, which) = match figure.mark {
            Mark::Record => (&mut self.record, "from the record"),
            Mark::Plain | Mark::Measured | Mark::Approximate => (&mut self.measured, "measured"),
        };
        if let Some(first) = place {
            let message = format!("Two figures here are {which}.");
            let fault = Fault::new("plan::two-figures", message, span, "again here");
            let fault = fault.with_label(first.span, "first here");
            reader.tell(fault.with_help(
                "Mark the one from the record with `(R)`; for a second measurement write a second entry.",
            ));
            return None;
        }
        *place = Some(At { value: figure, span });
        Some(())
    }
}
