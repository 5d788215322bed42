//! Angles and turns.

use super::degrees::{Degrees, take_degrees};
use super::marks::read_marked;
use super::number::take_decimal;
use super::scan::Scan;
use super::{Figure, Kind, Unread, Written, ask, malformed, quoted};
use crate::Angle;

const KIND: Kind = Kind { noun: "an angle", like: "for example 18°, 18.5 deg, 184°30' or 90°00'00\"" };
const TURN: Kind = Kind { noun: "a turn", like: "for example 10 deg clockwise or 10 deg counterclockwise" };

/// Reads an angle in degrees, minutes and seconds; a bare number is degrees.
///
/// # Errors
/// [`Unread::Ask`] for `4.30`, which may be degrees and minutes.
///
/// ```
/// use groundrule_units::read_angle;
/// assert_eq!(read_angle("184°30'")?.value.degrees(), 184.5);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_angle(text: &str) -> Result<Written<Angle>, Unread> {
    read_marked(text, &KIND, |core| Ok(angle(core)?.value))
}

/// Reads a turn on the sheet, positive anticlockwise: `10 deg counterclockwise`, `10° cw`.
///
/// # Errors
/// [`Unread::Ask`] when the sense of a turn other than zero is not said.
pub fn read_turn(text: &str) -> Result<Written<Angle>, Unread> {
    read_marked(text, &TURN, |core| {
        let mut scan = Scan::new(core);
        let angle = leading_angle(&mut scan)?;
        scan.skip_spaces();
        match scan.take_word(SENSE) {
            Some(sense) if scan.is_done() => Ok(angle.value * sense),
            None if scan.is_done() && angle.value == Angle::ZERO => Ok(Angle::ZERO),
            None if scan.is_done() => {
                let choices = ["clockwise", "counterclockwise"].map(|sense| format!("{core} {sense}"));
                Err(ask(format!("Is {} clockwise or counterclockwise?", quoted(core)), choices))
            }
            _ => Err(malformed(format!("{} does not say which way", quoted(scan.rest)))),
        }
    })
}

/// The sense of a turn: 1 anticlockwise.
pub(super) const SENSE: &[(&str, f64)] = &[
    ("clockwise", -1.0),
    ("cw", -1.0),
    ("counterclockwise", 1.0),
    ("counter-clockwise", 1.0),
    ("anticlockwise", 1.0),
    ("anti-clockwise", 1.0),
    ("ccw", 1.0),
];

const RADIANS: &[(&str, ())] = &[("rad", ()), ("radian", ()), ("radians", ())];

pub(super) fn angle(core: &str) -> Result<Figure<Angle>, Unread> {
    let mut scan = Scan::new(core);
    let figure = leading_angle(&mut scan)?;
    scan.skip_spaces();
    if scan.is_done() { Ok(figure) } else { Err(malformed(format!("{} is left over", quoted(scan.rest)))) }
}

/// Takes an angle with its sign; what follows may be more text.
pub(super) fn leading_angle(scan: &mut Scan) -> Result<Figure<Angle>, Unread> {
    let sign = scan.take_sign();
    if let Some(radians) = take_radians(scan) {
        return Ok(Figure { value: radians.value * sign, step: radians.step });
    }
    let before = *scan;
    match take_degrees(scan)? {
        Some(Degrees::Sure(degrees)) => Ok(Figure {
            value: Angle::from_degrees(degrees.value * sign),
            step: Angle::from_degrees(degrees.step),
        }),
        Some(Degrees::Packed { decimal, sexagesimal, .. }) => {
            Err(packed_question(&before, scan, [sexagesimal, decimal]))
        }
        None => Err(malformed("it does not start with a number")),
    }
}

/// The question about `4.30`, with what stands around it kept.
pub(super) fn packed_question(before: &Scan, after: &Scan, readings: [String; 2]) -> Unread {
    let choices = readings.map(|reading| format!("{}{reading}{}", before.taken(), after.rest));
    ask(format!("Is {} degrees and minutes, or decimal degrees?", quoted(before.text)), choices)
}

fn take_radians(scan: &mut Scan) -> Option<Figure<Angle>> {
    let mut ahead = *scan;
    // A number this reader cannot take may still be degrees: `04.30.00`.
    let Ok(Some(number)) = take_decimal(&mut ahead) else { return None };
    ahead.skip_spaces();
    ahead.take_word(RADIANS)?;
    *scan = ahead;
    Some(Figure { value: Angle::from_radians(number.value), step: Angle::from_radians(number.step) })
}
