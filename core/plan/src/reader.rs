//! Reading a TOML file into typed values: every fault at once, each with its place.
//!
//! A type that can stand in a file implements [`Read`]: one half says what may be written there (its
//! [`Shape`]), the other reads it. Tables are declared with [`crate::table!`], which makes both halves and the
//! struct from one list of keys, so the reader, the JSON Schema and the reference page cannot disagree.
//! Nothing here knows what a plan is; other files of the project are read with it too.

mod keys;
mod levels;
mod lists;
mod quantities;
mod scalars;
mod shape;
mod toml_text;
mod words;

pub use keys::{Keys, Table, unknown_key};
pub use levels::{LevelOrLevels, Levels};
pub use lists::{Map, OneOrMore};
pub use quantities::{Coordinate, NotNegative, PlainNumber, Size, number_or_text, unread};
pub use scalars::Date;
pub use shape::{Field, Form, Shape, TableShape, Word};
pub use toml_text::{SIZE_LIMIT, read_tree};
pub use words::{is_name, list, nearest, quote, unknown_word};

use groundrule_units::SheetUnit;
use toml::Spanned;
use toml::de::DeValue;

use crate::{Fault, KindTree, Name, Remark, Span};

/// A value of the file with its place.
pub type Value<'i> = Spanned<DeValue<'i>>;

/// The most faults told of one file; nobody reads on after so many.
pub const MOST_FAULTS: usize = 1000;

/// A type that can stand in a file.
pub trait Read: Sized {
    /// What may be written, for the schema, the reference page and messages.
    fn shape() -> Shape;

    /// Reads a value; nothing when it is not one, and then at least one fault was told to the reader.
    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self>;
}

/// What goes along while a file is read: the settings it is read with and what was found wrong.
#[derive(Debug)]
pub struct Reader<'a> {
    /// The unit of bare numbers, once known.
    pub units: Option<SheetUnit>,
    /// The kinds a thing may be of.
    pub kinds: &'a KindTree,
    /// The thing being read, for remarks.
    pub about: Option<Name>,
    /// Remarks so far.
    pub remarks: Vec<Remark>,
    /// Lengths whose written unit is of the other system than the sheet's.
    pub other_system: Vec<Span>,
    /// Faults so far, in the order they were found.
    faults: Vec<Fault>,
    /// How many more there were.
    untold: usize,
    /// Lines that slips of syntax have torn, by where they end; what stands there is not judged again.
    torn: Vec<Span>,
    /// The keys that lead to the value being read, outermost first.
    path: Vec<String>,
}

impl<'a> Reader<'a> {
    /// A reader that has found nothing yet.
    pub fn new(kinds: &'a KindTree) -> Self {
        Self {
            units: None,
            kinds,
            about: None,
            remarks: Vec::new(),
            other_system: Vec::new(),
            faults: Vec::new(),
            untold: 0,
            torn: Vec::new(),
            path: Vec::new(),
        }
    }

    /// Records a fault; past [`MOST_FAULTS`] they are only counted.
    ///
    /// In a file with slips of syntax, what is missing may only have been lost, so it is not told.
    pub fn tell(&mut self, fault: Fault) {
        let on_torn_line = |(at, _): &(Span, String)| {
            let next = self.torn.partition_point(|torn| torn.end < at.start);
            self.torn.get(next).is_some_and(|torn| torn.start <= at.end)
        };
        let may_be_lost = fault.code == "plan::missing-key";
        if self.is_torn() && (may_be_lost || fault.labels.first().is_some_and(on_torn_line)) {
            return;
        }
        if self.is_full() {
            self.untold += 1;
        } else {
            self.faults.push(fault);
        }
    }

    /// True when as many faults were told as ever are.
    fn is_full(&self) -> bool {
        self.faults.len() >= MOST_FAULTS
    }

    /// Counts faults that are not looked at further.
    fn leave_untold(&mut self, count: usize) {
        self.untold += count;
    }

    /// Records a fault at one place; gives nothing, so that a reading function can end with it.
    pub fn fault<T>(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        at: Span,
        beside: &str,
    ) -> Option<T> {
        self.tell(Fault::new(code, message, at, beside));
        None
    }

    /// Records a fault at one place, with what to do about it.
    pub fn fault_help<T>(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        at: Span,
        beside: &str,
        help: impl Into<String>,
    ) -> Option<T> {
        self.tell(Fault::new(code, message, at, beside).with_help(help));
        None
    }

    /// True when slips of syntax have torn the file, so that some of it may be lost.
    pub fn is_torn(&self) -> bool {
        !self.torn.is_empty()
    }

    /// True while nothing is wrong.
    pub fn is_clean(&self) -> bool {
        self.faults.is_empty()
    }

    /// Everything found wrong, in file order; the last says so when there was too much to tell.
    pub fn into_faults(mut self) -> Vec<Fault> {
        self.faults.sort_by_key(|fault| fault.labels.first().map(|(span, _)| *span));
        if self.untold > 0 {
            let message = format!("There are {} more faults than are shown here.", self.untold);
            self.faults.push(Fault { code: "plan::more-faults", message, labels: Vec::new(), help: None });
        }
        self.faults
    }

    /// Says that a value is of the wrong type.
    pub fn wrong_type<T: Read, U>(&mut self, value: &Value<'_>) -> Option<U> {
        let shape = T::shape();
        let found = words::type_of(value);
        let message = format!("{} takes {}, not {found}.", self.where_am_i(), shape.in_words());
        let fault = Fault::new("plan::wrong-type", message, span_of(value), &format!("this is {found}"));
        self.tell(fault.with_help(words::instead(&shape, value)));
        None
    }

    /// The key being read, with what it stands in: `feature.outline`.
    pub fn where_am_i(&self) -> String {
        match self.path.as_slice() {
            [] => "The file".to_owned(),
            path => format!("`{}`", path.join(".")),
        }
    }

    /// True outside of every table of the file.
    pub fn at_top(&self) -> bool {
        self.path.is_empty()
    }

    /// Reads something under a key.
    pub fn under<T>(&mut self, key: &str, read: impl FnOnce(&mut Self) -> T) -> T {
        self.path.push(key.to_owned());
        let result = read(self);
        self.path.pop();
        result
    }
}

/// The place of a value or key.
pub fn span_of<T>(spanned: &Spanned<T>) -> Span {
    Span::from(spanned.span())
}
