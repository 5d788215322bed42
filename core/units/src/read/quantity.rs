//! Any quantity, by its unit.

use super::marks::{read_marked, settled};
use super::number::{Spelling, take_number};
use super::scan::Scan;
use super::{Kind, Unread, Written, area, ask, length, malformed, quoted, slope, timed, volume};
use crate::{
    Quantity, read_angle, read_area, read_flow, read_length, read_ratio, read_speed, read_time, read_volume,
};

const KIND: Kind = Kind {
    noun: "a quantity",
    like: "for example 5 ft, 35 %, 200 sq ft, 0.23 ac, 3 cu yd, 18 deg, 0.5 cfs, 4 in/h or 24 h",
};

/// Reads a quantity whose unit says what it is: `5 ft`, `35 %`, `200 sq ft`, `0.23 ac`, `1 in 12`, `18 deg`,
/// `0.5 cfs`, `4 in/h`, `24 h`.
///
/// # Errors
/// [`Unread::Ask`] for a number without a unit, for `1:12`, for `20 perches` (a length or an area), and wherever the
/// reader of that kind asks.
///
/// ```
/// use groundrule_units::{read_quantity, Dimension};
/// assert_eq!(read_quantity("35 %")?.value.dimension(), Dimension::Ratio);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_quantity(text: &str) -> Result<Written<Quantity>, Unread> {
    settled(text, &KIND, once)
}

fn once(text: &str) -> Result<Written<Quantity>, Unread> {
    let shape = read_marked(text, &KIND, shape)?;
    match shape.value {
        Shape::Ratio => Ok(read_ratio(text)?.map(Quantity::from)),
        Shape::Angle => Ok(read_angle(text)?.map(Quantity::from)),
        Shape::Area => Ok(read_area(text, None)?.map(Quantity::from)),
        Shape::Volume => Ok(read_volume(text)?.map(Quantity::from)),
        Shape::Flow => Ok(read_flow(text)?.map(Quantity::from)),
        Shape::Speed => Ok(read_speed(text)?.map(Quantity::from)),
        Shape::Time => Ok(read_time(text)?.map(Quantity::from)),
        Shape::Length => Ok(read_length(text, None)?.map(Quantity::from)),
    }
}

/// Which reader a text is for.
#[derive(Clone, Copy)]
enum Shape {
    Ratio,
    Angle,
    Area,
    Volume,
    Flow,
    Speed,
    Time,
    Length,
}

fn shape(core: &str) -> Result<Shape, Unread> {
    if core.contains(['%', ':']) || has_word(core, &["percent", "pct"]) {
        return Ok(Shape::Ratio);
    }
    if core.contains('°') || has_word(core, &["deg", "degree", "degrees", "rad", "radian", "radians"]) {
        return Ok(Shape::Angle);
    }
    let mut scan = Scan::new(core);
    scan.take_sign();
    let start = scan;
    let Some(number) = take_number(&mut scan)? else {
        return Err(malformed("it does not start with a number"));
    };
    scan.skip_spaces();
    if number.spelling == Spelling::Hyphened && scan.is_done() {
        return Ok(Shape::Length);
    }
    if scan.is_done() {
        let choices = ["ft", "in", "m", "mm", "sq ft", "%"].map(|unit| format!("{core} {unit}"));
        return Err(ask(format!("In which unit is {}?", quoted(core)), choices));
    }
    // Before slopes, which are also one thing over another.
    if timed::flow_unit(scan.rest).is_some() {
        return Ok(Shape::Flow);
    }
    if timed::speed_unit(scan.rest).is_some() {
        return Ok(Shape::Speed);
    }
    if timed::time_unit(scan.rest).is_some() {
        return Ok(Shape::Time);
    }
    if slope::split(start.rest).is_some() {
        return Ok(Shape::Ratio);
    }
    if area::unit_of(scan.rest).is_some() {
        return Ok(Shape::Area);
    }
    if volume::unit_of(scan.rest).is_some() {
        return Ok(Shape::Volume);
    }
    perch(core, &scan)?;
    let is_length =
        scan.rest.starts_with('-') || scan.rest.contains('±') || scan.take_word(length::WORDS).is_some();
    if is_length {
        return Ok(Shape::Length);
    }
    Err(malformed(format!("{} is not a unit known here", quoted(scan.rest))))
}

fn has_word(core: &str, words: &[&str]) -> bool {
    core.split(|c: char| !c.is_alphabetic())
        .any(|found| words.iter().any(|word| word.eq_ignore_ascii_case(found)))
}

/// Deeds count lengths and areas in perches and poles.
fn perch(core: &str, unit: &Scan) -> Result<(), Unread> {
    let words = [("pole", ()), ("poles", ()), ("perch", ()), ("perches", ())];
    let mut scan = *unit;
    if scan.take_word(&words).is_none() || !scan.is_done() {
        return Ok(());
    }
    let figure = unit.taken();
    let choices = ["rods", "sq rods"].map(|unit| format!("{figure}{unit}"));
    Err(ask(format!("Is {} a length or an area?", quoted(core)), choices))
}
