//! `[declared]`: what is there or not there, whether drawn or not.

use std::collections::BTreeMap;

use toml::de::DeValue;

use crate::model::{Declaration, Presence};
use crate::reader::{Read, Reader, Shape, Value, list, nearest, quote, span_of};
use crate::{Fault, Name};

crate::table! {
    /// What is said of a subject, and by whom.
    pub(crate) table DeclarationTable {
        /// Whether it is there.
        required presence: Presence,
        /// Who says so.
        optional said_by: String,
    }
}

crate::words! { Presence {
    "none" => Self::None, "there is none";
    "shown" => Self::Shown, "all there are stand on the plan";
    "unknown" => Self::Unknown, "nobody has looked";
} }

/// What is said of each subject.
#[derive(Debug)]
pub(crate) struct Declared(pub(crate) BTreeMap<Name, Declaration>);

impl Read for Declaration {
    fn shape() -> Shape {
        Shape::Any(vec![Presence::shape(), DeclarationTable::shape()])
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let span = span_of(value);
        match value.get_ref() {
            DeValue::Table(_) => {
                let table = DeclarationTable::read(value, reader)?;
                Some(Self { presence: table.presence?, said_by: table.said_by, span })
            }
            _ => Some(Self { presence: Presence::read(value, reader)?, said_by: None, span }),
        }
    }
}

impl Read for Declared {
    fn shape() -> Shape {
        Shape::Map { keys: "subject", of: Box::new(Declaration::shape()) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(table) = value.get_ref().as_table() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let mut declared = BTreeMap::new();
        for (key, value) in table {
            let subject = key.get_ref().as_ref();
            if reader.kinds.subject(subject).is_none() {
                let known: Vec<&str> = reader.kinds.subjects().map(|(name, _)| name).collect();
                let message = format!("Nothing can be declared of {}.", quote(subject));
                let fault = Fault::new("plan::unknown-subject", message, span_of(key), "not a subject");
                let near =
                    nearest(subject, known.iter().copied()).map(|near| format!("Did you mean `{near}`? "));
                let help = format!("{}The subjects are {}.", near.unwrap_or_default(), list(known));
                reader.tell(fault.with_help(help));
            }
            if let Some(declaration) = reader.under(subject, |reader| Declaration::read(value, reader)) {
                declared.insert(Name(subject.to_owned()), declaration);
            }
        }
        Some(Self(declared))
    }
}
