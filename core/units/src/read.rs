//! Written text to quantities: one room under `read/` for each kind of reading.
//!
//! Every reader works in the same three moves: `marks` takes off what qualifies the figure (`(R)`, `±`), the
//! reader scans what is left, and a refusal is worded here with the text and an example of what is read.

mod angle;
mod area;
mod bearing;
mod curve;
mod degrees;
mod geographic;
mod length;
mod level;
mod line;
mod marks;
mod number;
mod orientation;
mod planting;
mod quantity;
mod scale;
mod scan;
mod slope;
mod timed;
mod volume;

use std::fmt;

pub use angle::{read_angle, read_turn};
pub use area::{read_area, read_area_rounding};
pub use bearing::read_bearing;
pub use curve::read_curve;
pub use geographic::{read_latitude, read_longitude};
pub use length::{read_length, read_length_rounding};
pub use level::read_level;
pub use line::{LineNote, read_line_note};
pub use orientation::read_orientation;
pub use planting::read_planting;
pub use quantity::read_quantity;
pub use scale::read_scale;
pub use slope::{SlopeSense, read_ratio, read_slope};
pub use timed::{read_flow, read_speed, read_time};
pub use volume::read_volume;

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

impl<T> Written<T> {
    /// The same text with its value turned into another.
    pub fn map<U>(self, turn: impl FnOnce(T) -> U) -> Written<U> {
        Written { value: turn(self.value), text: self.text, mark: self.mark }
    }
}

/// A text with more than one common meaning: what to ask, and what may be answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Question {
    /// The question in one sentence.
    pub ask: String,
    /// Texts that say the same without a question, one for each meaning.
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

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Malformed(why) => f.write_str(why),
            Self::Ask(question) => write!(f, "{} Write {}", question.ask, question.choices.join(", or ")),
        }
    }
}

impl std::error::Error for Unread {}

/// A figure and the smallest step its text can show: `25.00'` shows hundredths of a foot.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Figure<T> {
    value: T,
    step: T,
}

/// What a reader reads, for its refusals.
struct Kind {
    /// With its article: `a length`.
    noun: &'static str,
    /// Texts it reads.
    like: &'static str,
}

/// A refusal still without the text it refuses; `marks::read_marked` completes it.
fn malformed(why: impl Into<String>) -> Unread {
    Unread::Malformed(why.into())
}

fn ask(ask: impl Into<String>, choices: impl IntoIterator<Item = String>) -> Unread {
    Unread::Ask(Question { ask: ask.into(), choices: choices.into_iter().collect() })
}

/// The text in backticks for a message: on one line, and cut when long.
pub(crate) fn quoted(text: &str) -> String {
    const LONGEST: usize = 60;
    let clean = |c: char| if c.is_control() { ' ' } else { c };
    let mut shown: String = text.trim().chars().map(clean).take(LONGEST).collect();
    if text.trim().chars().count() > LONGEST {
        shown.push('…');
    }
    format!("`{shown}`")
}
