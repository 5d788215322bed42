//! Written text to quantities.

use crate::{Angle, Area, Length, Quantity, Ratio, SheetUnit};

/// How a surveyor qualified a figure.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Mark {
    /// Nothing said.
    #[default]
    Plain,
    /// `(R)`: from the record.
    Record,
    /// `(M)`: measured.
    Measured,
    /// `~` or `+/-`: approximate.
    Approximate,
}

/// A value together with the text it was read from.
#[derive(Clone, Debug, PartialEq)]
pub struct Written<T> {
    /// The value.
    pub value: T,
    /// The text as it stood in the file, trimmed.
    pub text: String,
    /// Record, measured or approximate.
    pub mark: Mark,
}

/// A text with more than one common meaning: what to ask, and what may be answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The question in one sentence.
    pub ask: String,
    /// Texts that would be read without a question, each with its meaning.
    pub choices: Vec<String>,
}

/// Why a text was not read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// Not a quantity of this kind; says what was expected, with an example.
    Malformed(String),
    /// Readable in more than one way.
    Ask(Question),
}

/// Reads a length; a bare number takes the unit of the sheet.
pub fn read_length(text: &str, sheet: Option<SheetUnit>) -> Result<Written<Length>, Unread> {
    let _ = (text, sheet);
    todo!()
}

/// Reads an area.
pub fn read_area(text: &str, sheet: Option<SheetUnit>) -> Result<Written<Area>, Unread> {
    let _ = (text, sheet);
    todo!()
}

/// Reads a slope or a share.
pub fn read_ratio(text: &str) -> Result<Written<Ratio>, Unread> {
    let _ = text;
    todo!()
}

/// Reads an angle in degrees, minutes and seconds.
pub fn read_angle(text: &str) -> Result<Written<Angle>, Unread> {
    let _ = text;
    todo!()
}

/// Reads a quantity whose unit says what it is: `5 ft`, `35 %`, `200 sq ft`, `1:12`.
pub fn read_quantity(text: &str) -> Result<Written<Quantity>, Unread> {
    let _ = text;
    todo!()
}
