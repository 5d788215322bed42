//! Areas: square feet, acres, square metres.

use super::marks::read_marked;
use super::number::take_number;
use super::scan::Scan;
use super::{Figure, Kind, Unread, Written, ask, malformed, quoted};
use crate::{Area, LengthUnit, SheetUnit};

const KIND: Kind = Kind { noun: "an area", like: "for example 10,019 sq ft, 0.23 ac or 931 m2" };

/// Square feet in one acre.
const ACRE: f64 = 43_560.0;
/// Square metres in one hectare.
const HECTARE: f64 = 10_000.0;

/// Reads an area; a bare number is square feet or square metres on a sheet in feet or metres.
///
/// # Errors
/// [`Unread::Ask`] for a bare number on a sheet in inches or millimetres, or on none.
///
/// ```
/// use groundrule_units::read_area;
/// assert_eq!(read_area("0.23 ac", None)?.value.square_feet().round(), 10_019.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_area(text: &str, sheet: Option<SheetUnit>) -> Result<Written<Area>, Unread> {
    read_marked(text, &KIND, |core| Ok(area(core, sheet)?.value))
}

/// Half of the smallest step a written area can show: about 218 sq ft for `0.23 ac`.
pub fn read_area_rounding(text: &str, sheet: Option<SheetUnit>) -> Result<Area, Unread> {
    Ok(read_marked(text, &KIND, |core| area(core, sheet))?.value.step / 2.0)
}

fn area(core: &str, sheet: Option<SheetUnit>) -> Result<Figure<Area>, Unread> {
    let mut scan = Scan::new(core);
    let Some(number) = take_number(&mut scan)? else {
        return Err(malformed("it does not start with a number"));
    };
    scan.skip_spaces();
    let one = if !scan.is_done() {
        let Some(one) = unit_of(scan.rest) else {
            return Err(malformed(format!("{} is not a unit of area", quoted(scan.rest))));
        };
        one
    } else if number.value == 0.0 {
        Area::from_square_feet(1.0)
    } else {
        let units = match sheet {
            Some(SheetUnit::Feet) => return Ok(figure(number, Area::from_square_feet(1.0))),
            Some(SheetUnit::Metres) => return Ok(figure(number, Area::from_square_metres(1.0))),
            Some(SheetUnit::Inches) => ["sq ft", "sq in"],
            Some(SheetUnit::Millimetres) => ["m2", "mm2"],
            None => ["sq ft", "m2"],
        };
        let choices = units.map(|unit| format!("{core} {unit}"));
        return Err(ask(format!("In which unit of area is {}?", quoted(core)), choices));
    };
    Ok(figure(number, one))
}

fn figure(number: super::number::Number, one: Area) -> Figure<Area> {
    Figure { value: one * number.value, step: one * number.step }
}

/// One of the unit of area that the whole of this text names.
pub(super) fn unit_of(text: &str) -> Option<Area> {
    let square = |unit: LengthUnit| unit.one() * unit.one();
    Some(match compact(text).as_str() {
        "sf" | "sqft" | "ft2" | "sqfoot" | "sqfeet" => Area::from_square_feet(1.0),
        "sqin" | "in2" | "sqinch" | "sqinches" => square(LengthUnit::Inch),
        "sy" | "sqyd" | "sqyds" | "yd2" | "sqyard" | "sqyards" => square(LengthUnit::Yard),
        "sqrod" | "sqrods" | "sqpole" | "sqpoles" | "sqperch" | "sqperches" => square(LengthUnit::Rod),
        "m2" | "sqm" | "sqmetre" | "sqmetres" | "sqmeter" | "sqmeters" => square(LengthUnit::Metre),
        "cm2" | "sqcm" => square(LengthUnit::Centimetre),
        "mm2" | "sqmm" => square(LengthUnit::Millimetre),
        "ac" | "acre" | "acres" => Area::from_square_feet(ACRE),
        "ha" | "hectare" | "hectares" => Area::from_square_metres(HECTARE),
        _ => return None,
    })
}

/// The letters of a unit without case, spaces, stops and raised figures; `square` becomes `sq`.
pub(super) fn compact(text: &str) -> String {
    let letters: String = text
        .chars()
        .filter(|c| !matches!(c, ' ' | '.' | '^' | '-'))
        .map(|c| match c {
            '²' => '2',
            '³' => '3',
            c => c.to_ascii_lowercase(),
        })
        .collect();
    letters.replacen("square", "sq", 1).replacen("cubic", "cu", 1)
}
