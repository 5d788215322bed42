//! Lengths: feet and inches, decimal feet, inches, metres, deed units.

use super::marks::read_marked;
use super::number::{Number, take_number};
use super::scan::Scan;
use super::{Figure, Kind, Unread, Written, ask, malformed, quoted};
use crate::{Length, LengthUnit, SheetUnit};

const KIND: Kind =
    Kind { noun: "a length", like: "for example 12'-4 1/2\", 12.4 ft, 54 in, 3.05 m or 3050 mm" };

/// Reads a length; a bare number takes the unit of the sheet.
///
/// Reads `12'-4 1/2"`, `12' 4.5`, `12-4.5` (the hyphen is not a minus), `12.4 ft`, `4-1/2"`, `3.05 m`, `305 cm`,
/// `66.00' (R)`, `65.8' ±`, `2 ch 30 lk`, `10 rods`, `33 varas (TX)`, `100 ftUS`.
///
/// # Errors
/// [`Unread::Ask`] for a bare number without a sheet unit, a bare fraction where the sheet is not in inches
/// (`4 1/2` is mostly inches), `4-1/2` without a mark, `3,050` in metres, a vara of no named state.
///
/// ```
/// use groundrule_units::{read_length, Mark};
/// let record = read_length("66.00' (R)", None)?;
/// assert_eq!((record.value.feet(), record.mark), (66.0, Mark::Record));
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_length(text: &str, sheet: Option<SheetUnit>) -> Result<Written<Length>, Unread> {
    read_marked(text, &KIND, |core| Ok(length(core, sheet)?.value))
}

/// Half of the smallest step a written length can show: 0.005 ft for `12.40'`, 1/16 in for `4 1/8"`.
pub fn read_length_rounding(text: &str, sheet: Option<SheetUnit>) -> Result<Length, Unread> {
    Ok(read_marked(text, &KIND, |core| length(core, sheet))?.value.step / 2.0)
}

pub(super) fn length(core: &str, sheet: Option<SheetUnit>) -> Result<Figure<Length>, Unread> {
    let mut scan = Scan::new(core);
    let sign = scan.take_sign();
    let Some(first) = take_number(&mut scan)? else {
        return Err(malformed("it does not start with a number"));
    };
    scan.skip_spaces();
    let figure = if scan.is_done() {
        in_sheet_unit(core, first, sheet)?
    } else if let Some(word) = scan.take_word(WORDS) {
        let unit = word.unit(core)?;
        decimal_comma(core, first, unit)?;
        let first = in_unit(first, unit);
        scan.skip_spaces();
        if scan.is_done() { first } else { add_smaller(first, core, unit, scan)? }
    } else if first.is_whole() && scan.take('-') {
        hyphened(first, scan, sheet)?
    } else {
        return Err(leftover(scan.rest));
    };
    Ok(Figure { value: figure.value * sign, step: figure.step })
}

/// The rest of a text that makes no sense where it stands.
fn leftover(rest: &str) -> Unread {
    if rest.contains('±') {
        return malformed("the plus-or-minus of a figure is said by its accuracy class, not in the figure");
    }
    malformed(format!("{} is not a unit of length", quoted(rest)))
}

fn in_unit(number: Number, unit: LengthUnit) -> Figure<Length> {
    Figure { value: unit.of(number.value), step: unit.of(number.step) }
}

fn in_sheet_unit(core: &str, number: Number, sheet: Option<SheetUnit>) -> Result<Figure<Length>, Unread> {
    use super::number::Spelling;
    // Nothing is nothing in every unit.
    if number.value == 0.0 {
        return Ok(in_unit(number, sheet.unwrap_or(SheetUnit::Feet).length_unit()));
    }
    if number.spelling == Spelling::Hyphened {
        return hyphened_fraction(core);
    }
    let Some(sheet) = sheet else {
        let choices = SheetUnit::ALL.map(|unit| format!("{core} {}", unit.name()));
        return Err(ask(format!("In which unit is {}?", quoted(core)), choices));
    };
    if number.has_fraction() && sheet != SheetUnit::Inches {
        let choices = [format!("{core} in"), format!("{core} {}", sheet.name())];
        let sheet = sheet.name();
        return Err(ask(
            format!("Is {} inches, as fractions mostly are, or {sheet}?", quoted(core)),
            choices,
        ));
    }
    decimal_comma(core, number, sheet.length_unit())?;
    Ok(in_unit(number, sheet.length_unit()))
}

/// `4-1/2` without a mark: four and a half inches, or four feet and half an inch.
fn hyphened_fraction(core: &str) -> Result<Figure<Length>, Unread> {
    let feet_inches = core.replacen('-', "'-0 ", 1) + "\"";
    let choices = [format!("{core}\""), feet_inches];
    Err(ask(format!("Is {} inches with a fraction, or feet and inches?", quoted(core)), choices))
}

/// `3,050 m` is three kilometres in America and three metres in much of the metric world.
fn decimal_comma(core: &str, number: Number, unit: LengthUnit) -> Result<(), Unread> {
    if number.one_comma && unit == LengthUnit::Metre {
        let choices = [core.replacen(',', ".", 1), core.replacen(',', "", 1)];
        return Err(ask(
            format!("Is the comma in {} a decimal point, or does it separate thousands?", quoted(core)),
            choices,
        ));
    }
    Ok(())
}

/// The second part of `12' 4 1/2"` or `2 ch 30 lk`.
fn add_smaller(
    first: Figure<Length>,
    core: &str,
    unit: LengthUnit,
    mut scan: Scan,
) -> Result<Figure<Length>, Unread> {
    let is_whole = is_whole_number_of(first.value, unit);
    let glued = scan.taken().ends_with(char::is_alphabetic);
    let before = scan;
    scan.take('-');
    scan.skip_spaces();
    let Some(second) = take_number(&mut scan)? else { return Err(leftover(before.rest)) };
    scan.skip_spaces();
    let is_bare = scan.is_done();
    let smaller =
        if is_bare { None } else { scan.take_word(WORDS).map(|word| word.unit(core)).transpose()? };
    scan.skip_spaces();
    if !scan.is_done() {
        return Err(leftover(scan.rest));
    }
    match (unit, smaller) {
        // `200 ft2` is an area: after a word the inches need their mark or a space.
        (LengthUnit::Foot, None) if glued => Err(malformed("a number stands right behind the unit")),
        (LengthUnit::Foot, None | Some(LengthUnit::Inch)) if is_whole => inches_after(first, second),
        (LengthUnit::Foot, None | Some(LengthUnit::Inch)) => {
            Err(malformed("feet that have inches behind them must be a whole number"))
        }
        (LengthUnit::Chain, Some(LengthUnit::Link)) if is_whole && second.value < 100.0 => {
            let links = in_unit(second, LengthUnit::Link);
            Ok(Figure { value: first.value + links.value, step: links.step })
        }
        _ => Err(leftover(before.rest)),
    }
}

fn is_whole_number_of(length: Length, unit: LengthUnit) -> bool {
    let count = (length / unit.one()).fraction();
    (count - count.round()).abs() < 1e-9
}

/// `12-4.5`, with or without the inch mark.
fn hyphened(feet: Number, mut scan: Scan, sheet: Option<SheetUnit>) -> Result<Figure<Length>, Unread> {
    scan.skip_spaces();
    let before = scan;
    let Some(inches) = take_number(&mut scan)? else { return Err(leftover(before.rest)) };
    scan.skip_spaces();
    let unit = scan.take_word(WORDS);
    let in_inches = match unit {
        None => true,
        Some(word) => word == Word::Unit(LengthUnit::Inch),
    };
    if !in_inches || !scan.is_done() {
        return Err(malformed("two numbers joined by a hyphen are feet and inches"));
    }
    if unit.is_none() && sheet.is_some_and(SheetUnit::is_metric) {
        return Err(malformed(
            "two numbers joined by a hyphen are feet and inches, and this sheet is metric",
        ));
    }
    inches_after(in_unit(feet, LengthUnit::Foot), inches)
}

fn inches_after(feet: Figure<Length>, inches: Number) -> Result<Figure<Length>, Unread> {
    if inches.value >= 12.0 {
        return Err(malformed("inches behind feet must be under 12"));
    }
    let inches = in_unit(inches, LengthUnit::Inch);
    Ok(Figure { value: feet.value + inches.value, step: inches.step })
}

/// A word behind a number.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Word {
    Unit(LengthUnit),
    /// A vara of no named state.
    SomeVara,
}

impl Word {
    pub(super) fn unit(self, core: &str) -> Result<LengthUnit, Unread> {
        match self {
            Self::Unit(unit) => Ok(unit),
            Self::SomeVara => {
                let choices = ["(TX)", "(AZ)", "(FL)"].map(|state| format!("{core} {state}"));
                Err(ask(
                    format!(
                        "Is {} in the vara of Texas, 33 1/3 in, Arizona, 33 in, or Florida, 33.372 in?",
                        quoted(core)
                    ),
                    choices,
                ))
            }
        }
    }
}

macro_rules! words {
    ($($unit:ident: $($word:literal)+;)*) => {
        &[$($(($word, Word::Unit(LengthUnit::$unit)),)+)* ("vara", Word::SomeVara),
            ("varas", Word::SomeVara), ("vrs", Word::SomeVara)]
    };
}

/// The words for units of length.
pub(super) const WORDS: &[(&str, Word)] = words! {
    Foot: "'" "ft" "foot" "feet" "lf" "lin ft";
    Inch: "\"" "in" "ins" "inch" "inches";
    Metre: "m" "metre" "metres" "meter" "meters";
    Centimetre: "cm" "centimetre" "centimetres" "centimeter" "centimeters";
    Millimetre: "mm" "millimetre" "millimetres" "millimeter" "millimeters";
    Yard: "yd" "yds" "yard" "yards";
    SurveyFoot: "ftUS" "US ft" "US survey ft" "US survey foot" "US survey feet" "survey ft" "survey foot" "survey feet";
    Chain: "ch" "chs" "chain" "chains";
    Link: "lk" "lks" "li" "link" "links";
    Rod: "rod" "rods" "rd" "rds" "pole" "poles" "perch" "perches";
    TexasVara: "texas vara" "texas varas" "vara (TX)" "varas (TX)" "vrs. (TX)" "vrs (TX)";
    ArizonaVara: "arizona vara" "arizona varas" "vara (AZ)" "varas (AZ)" "vrs. (AZ)" "vrs (AZ)";
    FloridaVara: "florida vara" "florida varas" "vara (FL)" "varas (FL)" "vrs. (FL)" "vrs (FL)";
};
