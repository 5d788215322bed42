//! Chains, loops, ties and sides by themselves.

#![allow(clippy::expect_used, reason = "a test ends where something it needs is not there")]

mod chains;
mod loops;
mod properties;
mod ties;

use groundrule_survey::closing::{Call, Candidates, Figure};
use groundrule_units::{Angle, Area, Length, SheetUnit, Style, read_bearing, read_length};

/// A figure on a sheet in feet, with its plus-or-minus in feet.
fn figure(text: &str, half_width: f64) -> Figure {
    let written = read_length(text, Some(SheetUnit::Feet)).expect("a length");
    Figure { written, half_width: Length::from_feet(half_width) }
}

/// A straight call, with its plus-or-minus in feet and in minutes of arc.
fn call(bearing: &str, distance: &str, half_width: f64, minutes: f64) -> Call {
    Call {
        bearing: read_bearing(bearing).expect("a bearing"),
        bearing_half_width: Angle::from_degrees(minutes / 60.0),
        distance: figure(distance, half_width),
        segment: Area::ZERO,
    }
}

/// The candidates in words, one a line.
fn words(candidates: &Candidates) -> Vec<String> {
    candidates.list.iter().map(|candidate| candidate.describe(Style::DecimalFeet)).collect()
}
