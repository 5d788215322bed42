//! Tables of known keys, and the macro that declares them.

use toml::Spanned;
use toml::de::{DeString, DeTable};

use super::{Field, Read, Reader, Shape, TableShape, Value, list, nearest, quote, span_of};
use crate::{Fault, Span};

/// A table declared with [`crate::table!`].
pub trait Table: Sized {
    /// What the table is, with every key.
    fn table() -> TableShape;

    /// Takes the keys it knows; one that is missing or wrong is a fault and stays empty.
    fn read_keys(keys: &mut Keys<'_, '_>, reader: &mut Reader<'_>) -> Self;
}

impl<T: Table> Read for T {
    fn shape() -> Shape {
        Shape::Table(T::table())
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            return reader.wrong_type::<T, _>(value);
        };
        let table = T::read_keys(&mut keys, reader);
        keys.refuse_rest::<T>(reader);
        Some(table)
    }
}

/// A table being read: remembers which of its keys were taken.
#[derive(Debug)]
pub struct Keys<'v, 'i> {
    table: &'v DeTable<'i>,
    span: Span,
    taken: Vec<&'static str>,
}

impl<'v, 'i> Keys<'v, 'i> {
    /// The keys of a value, if it is a table.
    pub fn of(value: &'v Value<'i>) -> Option<Self> {
        Some(Self::of_table(value.get_ref().as_table()?, span_of(value)))
    }

    /// The keys of a table that stands at a place.
    pub fn of_table(table: &'v DeTable<'i>, span: Span) -> Self {
        Self { table, span, taken: Vec::new() }
    }

    /// Where the table stands: its header, or its braces.
    pub fn span(&self) -> Span {
        self.span
    }

    /// The value of a key as it stands, without taking it.
    pub fn peek(&self, key: &str) -> Option<&'v Value<'i>> {
        self.table.get(key)
    }

    /// True when the key is there, whether or not its value could be read.
    pub fn has(&self, key: &str) -> bool {
        self.table.contains_key(key)
    }

    /// Where a key stands.
    pub fn key_span(&self, key: &str) -> Option<Span> {
        self.table.get_key_value(key).map(|(key, _)| span_of(key))
    }

    /// Reads a key that may be absent.
    pub fn optional<T: Read>(&mut self, key: &'static str, reader: &mut Reader<'_>) -> Option<T> {
        self.taken.push(key);
        let value = self.table.get(key)?;
        reader.under(key, |reader| T::read(value, reader))
    }

    /// Reads a key that must be there.
    pub fn required<T: Read>(&mut self, key: &'static str, doc: &str, reader: &mut Reader<'_>) -> Option<T> {
        if !self.table.contains_key(key) {
            self.taken.push(key);
            let message = format!("{} lacks the key `{key}`.", reader.where_am_i());
            let shape = T::shape();
            let (help, beside) = match &shape {
                Shape::Table(table) if reader.at_top() => {
                    let keys = table.example_keys().join(" and ");
                    (format!("Add a section `[{key}]` with {keys}."), "the file starts here")
                }
                _ => (format!("Add `{key} = {}`: {}", shape.example(), Field::tidy(doc)), "in this table"),
            };
            return reader.fault_help("plan::missing-key", message, self.span, beside, help);
        }
        self.optional(key, reader)
    }

    /// The keys nothing has taken, in file order.
    pub fn rest(&self) -> Vec<(&'v Spanned<DeString<'i>>, &'v Value<'i>)> {
        let mut rest: Vec<_> =
            self.table.iter().filter(|(key, _)| !self.taken.contains(&key.get_ref().as_ref())).collect();
        rest.sort_by_key(|(key, _)| key.span().start);
        rest
    }

    /// Calls every key that nothing has taken unknown, with the nearest that is known.
    pub fn refuse_rest<T: Table>(&self, reader: &mut Reader<'_>) {
        let rest = self.rest();
        if rest.is_empty() {
            return;
        }
        let table = T::table();
        let known: Vec<&str> = table.fields.iter().map(|field| field.key).collect();
        for (i, (key, _)) in rest.iter().enumerate() {
            if reader.is_full() {
                reader.leave_untold(rest.len() - i);
                break;
            }
            let fault = unknown_key(key, &reader.where_am_i(), &known);
            reader.tell(fault);
        }
    }
}

/// The fault of a key that is not known, with the nearest name that is.
pub fn unknown_key(key: &Spanned<DeString<'_>>, of: &str, known: &[&str]) -> Fault {
    let message = format!("{of} has no key {}.", quote(key.get_ref()));
    let fault = Fault::new("plan::unknown-key", message, span_of(key), "not known here");
    fault.with_help(match nearest(key.get_ref(), known.iter().copied()) {
        Some(near) => format!("Did you mean `{near}`?"),
        None => format!("The keys are {}.", list(known.iter().copied())),
    })
}

/// Declares a table of the file: the struct, what may be written, and how it is read, from one list of keys.
///
/// Each key is `required`, `optional` or `flatten` (the keys of another table, taken in among these).
/// What is read is an `Option`: a required key that is empty has had its fault recorded.
///
/// ```
/// use groundrule_plan::reader::{Read, Shape};
///
/// groundrule_plan::table! {
///     /// Who drew the sheet.
///     pub table Drafter {
///         /// The name in the title block.
///         required name: String,
///         /// How many sheets there are.
///         optional sheets: u32,
///     }
/// }
///
/// let Shape::Table(shape) = Drafter::shape() else { unreachable!() };
/// assert_eq!(shape.fields[1].doc, "How many sheets there are.");
/// ```
#[macro_export]
macro_rules! table {
    ($(#[doc = $doc:literal])* $vis:vis table $name:ident {
        $( $(#[doc = $key_doc:literal])* $need:ident $key:ident : $type:ty, )*
    }) => {
        $(#[doc = $doc])*
        #[derive(Debug)]
        $vis struct $name {
            /// Where the table stands.
            #[allow(dead_code, reason = "not every table is asked where it stands")]
            pub span: $crate::Span,
            $( $(#[doc = $key_doc])* pub $key: $crate::table!(@held $need $type), )*
        }

        impl $crate::reader::Table for $name {
            fn table() -> $crate::reader::TableShape {
                let fields: Vec<Vec<$crate::reader::Field>> =
                    vec![$( $crate::table!(@fields $need $key $type, concat!($($key_doc, "\n"),*)), )*];
                $crate::reader::TableShape {
                    name: stringify!($name),
                    doc: $crate::reader::Field::tidy(concat!($($doc, "\n"),*)),
                    fields: fields.concat(),
                    open: false,
                }
            }

            fn read_keys(
                keys: &mut $crate::reader::Keys<'_, '_>,
                reader: &mut $crate::reader::Reader<'_>,
            ) -> Self {
                Self {
                    span: keys.span(),
                    $( $key: $crate::table!(
                        @read keys, reader, $need $key $type, concat!($($key_doc, "\n"),*)
                    ), )*
                }
            }
        }
    };

    (@held flatten $type:ty) => { $type };
    (@held $need:ident $type:ty) => { Option<$type> };

    (@fields flatten $key:ident $type:ty, $doc:expr) => {
        <$type as $crate::reader::Table>::table().fields
    };
    (@fields $need:ident $key:ident $type:ty, $doc:expr) => {
        vec![$crate::reader::Field {
            key: $crate::table!(@name $key),
            doc: $crate::reader::Field::tidy($doc),
            required: stringify!($need) == "required",
            shape: <$type as $crate::reader::Read>::shape(),
        }]
    };

    (@read $keys:ident, $reader:ident, flatten $key:ident $type:ty, $doc:expr) => {
        <$type as $crate::reader::Table>::read_keys($keys, $reader)
    };
    (@read $keys:ident, $reader:ident, required $key:ident $type:ty, $doc:expr) => {
        $keys.required::<$type>($crate::table!(@name $key), $doc, $reader)
    };
    (@read $keys:ident, $reader:ident, optional $key:ident $type:ty, $doc:expr) => {
        $keys.optional::<$type>($crate::table!(@name $key), $reader)
    };

    // A key that is a word of Rust is written `r#box` in the list.
    (@name $key:ident) => { stringify!($key).trim_start_matches("r#") };
}

impl Field {
    /// A doc comment as one paragraph.
    #[doc(hidden)]
    pub fn tidy(doc: &str) -> String {
        doc.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}
