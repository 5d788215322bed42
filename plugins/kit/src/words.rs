//! The small words a check speaks in: features, values, marks and needs.

use groundrule_units::{Angle, Area, Flow, Length, Quantity, Ratio, Speed, Time, Volume};

/// A feature of the plan. Good for the run it was handed to, and for nothing else.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Feature(u32);

impl Feature {
    /// From the number its ground knows it by. A check never makes one up: a number that the ground did not
    /// hand out stops the module.
    pub const fn from_handle(handle: u32) -> Self {
        Self(handle)
    }

    /// The number its ground knows it by.
    pub const fn handle(self) -> u32 {
        self.0
    }
}

/// How a feature is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A closed outline.
    Outline,
    /// A line, with or without a width.
    Line,
    /// A single place.
    Spot,
    /// A circle.
    Disc,
    /// Stated, but not drawn: whatever is measured of it is lacking.
    Absent,
}

/// A stated fact, or a parameter of the rule.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A length, area, ratio or angle.
    Quantity(Quantity),
    /// A whole number.
    Count(u32),
    /// Yes or no.
    Flag(bool),
    /// Words.
    Text(String),
    /// Several words.
    Texts(Vec<String>),
}

impl Value {
    /// What it is, for a sentence: `a number`, `a text`.
    pub const fn sort(&self) -> &'static str {
        match self {
            Self::Quantity(_) => "a quantity",
            Self::Count(_) => "a whole number",
            Self::Flag(_) => "a yes or no",
            Self::Text(_) => "a text",
            Self::Texts(_) => "a list of texts",
        }
    }
}

/// A place on the sheet, from the site's local origin.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// To the right on the sheet.
    pub x: Length,
    /// Up the sheet.
    pub y: Length,
}

/// Something to draw beside what the amounts themselves show.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A place.
    Spot(Place),
    /// A dimension from one place to another.
    Span(Place, Place),
    /// A ring to shade, its first place not repeated.
    Region(Vec<Place>),
}

/// Data that is not there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Need {
    /// What is lacking: `clear opening of gate-1`.
    pub what: String,
    /// What to add, or where to measure it.
    pub how: String,
}

impl Need {
    /// What is lacking, and what to do about it.
    pub fn new(what: impl Into<String>, how: impl Into<String>) -> Self {
        Self { what: what.into(), how: how.into() }
    }
}

/// Why a check would not run at all: the row asks it for something it cannot do.
///
/// Not for data that is lacking: that is an answer, [`crate::Answer::Lacking`], and other subjects still get theirs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal(String);

impl Refusal {
    /// With what is wrong in the row and what to write instead.
    pub fn new(message: impl Into<String>) -> Self {
        Self(message.into())
    }

    /// The message.
    pub fn message(&self) -> &str {
        &self.0
    }
}

impl std::fmt::Display for Refusal {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Refusal {}

macro_rules! value_from {
    ($($from:ty => |$it:ident| $value:expr;)+) => {
        $(impl From<$from> for Value {
            fn from($it: $from) -> Self {
                $value
            }
        })+
    };
}

value_from! {
    Quantity => |it| Self::Quantity(it);
    Length => |it| Self::Quantity(it.into());
    Area => |it| Self::Quantity(it.into());
    Ratio => |it| Self::Quantity(it.into());
    Angle => |it| Self::Quantity(it.into());
    Volume => |it| Self::Quantity(it.into());
    Flow => |it| Self::Quantity(it.into());
    Speed => |it| Self::Quantity(it.into());
    Time => |it| Self::Quantity(it.into());
    u32 => |it| Self::Count(it);
    bool => |it| Self::Flag(it);
    &str => |it| Self::Text(it.to_owned());
    String => |it| Self::Text(it);
    Vec<String> => |it| Self::Texts(it);
}
