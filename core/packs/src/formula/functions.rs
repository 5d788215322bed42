//! The functions a formula may use.

use groundrule_units::{Angle, Area, Flow, Length, Ratio, Speed, Time, Volume};

use super::Sort;

/// Longest formula, in bytes. A limit that needs more wants a table.
pub(crate) const MAX_TEXT: usize = 1000;

/// Functions that give a plain number its unit: name, the SI value of one, what it gives, what it is for.
pub(crate) const UNITS: [(&str, f64, Sort, &str); 13] = [
    ("feet", Length::from_feet(1.0).metres(), Sort::Metres(1), "So many international feet."),
    ("inches", Length::from_inches(1.0).metres(), Sort::Metres(1), "So many inches."),
    ("metres", 1.0, Sort::Metres(1), "So many metres."),
    ("millimetres", Length::from_millimetres(1.0).metres(), Sort::Metres(1), "So many millimetres."),
    ("square_feet", Area::from_square_feet(1.0).square_metres(), Sort::Metres(2), "So many square feet."),
    ("square_metres", 1.0, Sort::Metres(2), "So many square metres."),
    ("cubic_feet", Volume::from_cubic_feet(1.0).cubic_metres(), Sort::Metres(3), "So many cubic feet."),
    (
        "cubic_feet_per_second",
        Flow::from_cubic_feet_per_second(1.0).cubic_metres_per_second(),
        Sort::FLOW,
        "So many cubic feet a second.",
    ),
    (
        "feet_per_second",
        Speed::from_feet_per_second(1.0).metres_per_second(),
        Sort::SPEED,
        "So many feet a second.",
    ),
    (
        "inches_per_hour",
        Speed::from_inches_per_hour(1.0).metres_per_second(),
        Sort::SPEED,
        "So many inches an hour, of rain or into soil.",
    ),
    ("hours", Time::from_hours(1.0).seconds(), Sort::TIME, "So many hours."),
    ("percent", Ratio::from_percent(1.0).fraction(), Sort::PLAIN, "So many hundredths."),
    ("degrees", Angle::from_degrees(1.0).radians(), Sort::Angle, "So many degrees."),
];

/// The other functions: name, what it gives, what it is for.
pub(crate) const FUNCTIONS: [(&str, &str, &str); 8] = [
    ("least", "an amount", "The least of two or more amounts of the same sort."),
    ("greatest", "an amount", "The greatest of two or more amounts of the same sort."),
    (
        "round_up",
        "an amount",
        "Up to the next whole number of steps: `round_up(lot.width / 10, feet(1))`. What is a whole number of steps \
         within a micrometre stays as it is.",
    ),
    ("round_down", "an amount", "Down to the last whole number of steps, likewise."),
    ("has", "a yes or no", "True when a fact is stated: `has(subject.height)`."),
    ("startsWith", "a yes or no", "Of a text: `site.district.startsWith('R')`."),
    ("endsWith", "a yes or no", "Of a text, how it ends."),
    ("contains", "a yes or no", "Of a text, what stands in it."),
];
