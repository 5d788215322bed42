//! Lengths, areas, slopes, angles, flows, speeds and times as people write them on a plan.
//!
//! Everything inside Groundrule is metres, square metres, radians, seconds and plain ratios, each in a newtype;
//! this crate is the only place that turns them into written text and back.
//! Reading never guesses: a text with two common meanings comes back as a [`Question`],
//! and every choice it offers is itself read without a question.
//!
//! ```
//! use groundrule_units::{read_length, show, SheetUnit, Style, Unread};
//!
//! let wall = read_length("12'-4 1/2\"", None)?;
//! assert_eq!(show(wall.value.into(), Style::DecimalFeet), "12.38 ft");
//!
//! let Err(Unread::Ask(question)) = read_length("3050", None) else { panic!("asks for the unit") };
//! assert_eq!(question.choices, ["3050 ft", "3050 in", "3050 m", "3050 mm"]);
//! assert_eq!(read_length("3050", Some(SheetUnit::Millimetres))?.value.metres(), 3.05);
//! # Ok::<(), Unread>(())
//! ```

mod bearing;
mod curve;
mod level;
mod orientation;
mod planting;
mod quantity;
mod read;
mod scale;
mod show;
mod terms;
mod unit;

pub use bearing::Bearing;
pub use curve::{CircularCurve, CurveCheck, CurvePart};
pub use level::Level;
pub use orientation::{NorthKind, Orientation};
pub use planting::PlantNote;
pub use quantity::{Angle, Area, Dimension, Flow, Length, Quantity, Ratio, Speed, Time, Volume};
pub use read::{
    LineNote, Mark, Question, SlopeSense, Unread, Written, read_angle, read_area, read_area_rounding,
    read_bearing, read_curve, read_flow, read_latitude, read_length, read_length_rounding, read_level,
    read_line_note, read_longitude, read_orientation, read_planting, read_quantity, read_ratio, read_scale,
    read_slope, read_speed, read_time, read_turn, read_volume,
};
pub use scale::Scale;
pub use show::{Style, show, show_with_spread};
pub use terms::{LevelTerm, LineTerm};
pub use unit::{LengthUnit, SheetUnit};
