//! Lengths, areas, slopes and angles as people write them on a plan.
//!
//! Everything inside Groundrule is metres, square metres, radians and plain ratios, each in a newtype;
//! this crate is the only place that turns them into written text and back.
//! Reading never guesses: a text with two common meanings comes back as a [`Question`].

mod quantity;
mod read;
mod show;
mod unit;

pub use quantity::{Angle, Area, Dimension, Length, Quantity, Ratio, Volume};
pub use read::{
    Mark, Question, Unread, Written, read_angle, read_area, read_length, read_quantity, read_ratio,
};
pub use show::{Style, show, show_with_spread};
pub use unit::{LengthUnit, SheetUnit};
