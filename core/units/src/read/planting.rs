//! Sizes on a plant list: `2" cal. B&B`, `18" o.c.`, `5 gal`.

use super::length::length;
use super::marks::read_marked;
use super::number::take_decimal;
use super::scan::Scan;
use super::{Kind, Unread, Written, ask, malformed, quoted};
use crate::quantity::INCH;
use crate::{Length, PlantNote, Volume};

const KIND: Kind = Kind {
    noun: "a note of a plant list",
    like: "for example 2\" cal. B&B, 18\" o.c., 12\" DBH, 8' OA or 5 gal",
};

/// Cubic metres in one US gallon of 231 cubic inches.
const GALLON: f64 = 231.0 * INCH * INCH * INCH;

/// Reads the sizes and spacings of one line of a plant list, separated by spaces or commas.
///
/// # Errors
/// [`Unread::Ask`] for a size that names no unit: `12 DBH`.
///
/// ```
/// use groundrule_units::{read_planting, Length, PlantNote};
/// let notes = read_planting("2\" cal. B&B")?.value;
/// assert_eq!(notes, [PlantNote::Caliper(Length::from_inches(2.0)), PlantNote::BalledAndBurlapped]);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_planting(text: &str) -> Result<Written<Vec<PlantNote>>, Unread> {
    read_marked(text, &KIND, |core| {
        let mut notes = Vec::new();
        let mut scan = Scan::new(core);
        while !scan.is_done() {
            notes.push(note(&mut scan)?);
            scan.take_while(|c| matches!(c, ' ' | ',' | ';'));
        }
        Ok(notes)
    })
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Term {
    TrunkAtBreastHeight,
    Caliper,
    OnCenter,
    Overall,
    Container,
    BalledAndBurlapped,
}

const TERMS: &[(&str, Term)] = &[
    ("DBH", Term::TrunkAtBreastHeight),
    ("D.B.H.", Term::TrunkAtBreastHeight),
    ("cal", Term::Caliper),
    ("caliper", Term::Caliper),
    ("oc", Term::OnCenter),
    ("o.c.", Term::OnCenter),
    ("o.c", Term::OnCenter),
    ("on center", Term::OnCenter),
    ("OA", Term::Overall),
    ("O.A.", Term::Overall),
    ("overall", Term::Overall),
    ("gal", Term::Container),
    ("gallon", Term::Container),
    ("gallons", Term::Container),
    ("B&B", Term::BalledAndBurlapped),
    ("B & B", Term::BalledAndBurlapped),
];

fn note(scan: &mut Scan) -> Result<PlantNote, Unread> {
    let leading = scan.take_word(TERMS);
    if leading == Some(Term::BalledAndBurlapped) {
        return Ok(PlantNote::BalledAndBurlapped);
    }
    scan.take_while(|c| matches!(c, ' ' | '=' | ':'));
    let start = *scan;
    let Some((size, trailing)) = sized(scan, leading) else {
        return Err(malformed(format!("{} names no size that is known here", quoted(start.rest))));
    };
    match trailing {
        Term::Container => gallons(size),
        Term::BalledAndBurlapped => Err(malformed("B&B takes no size")),
        Term::TrunkAtBreastHeight => {
            Ok(PlantNote::TrunkAtBreastHeight(in_unit(&start, scan, size, ["\"", " cm"])?))
        }
        Term::Caliper => Ok(PlantNote::Caliper(in_unit(&start, scan, size, ["\"", " cm"])?)),
        Term::OnCenter => Ok(PlantNote::OnCenter(in_unit(&start, scan, size, ["'", "\""])?)),
        Term::Overall => Ok(PlantNote::Overall(in_unit(&start, scan, size, ["'", "\""])?)),
    }
}

/// The text of the size and its term: `DBH 12"` takes up to the comma, `12" DBH` up to the term.
fn sized<'a>(scan: &mut Scan<'a>, leading: Option<Term>) -> Option<(&'a str, Term)> {
    if let Some(term) = leading {
        return Some((scan.take_while(|c| c != ',' && c != ';').trim(), term));
    }
    let rest = scan.rest;
    rest.char_indices().find_map(|(at, _)| {
        let mut ahead = Scan { text: scan.text, rest: &rest[at..] };
        let is_inside_word = rest[..at].ends_with(char::is_alphabetic);
        let term = if is_inside_word { None } else { ahead.take_word(TERMS) }?;
        *scan = ahead;
        Some((rest[..at].trim(), term))
    })
}

fn gallons(size: &str) -> Result<PlantNote, Unread> {
    let mut scan = Scan::new(size);
    match take_decimal(&mut scan)? {
        Some(number) if scan.is_done() => {
            Ok(PlantNote::Container(Volume::from_cubic_metres(number.value * GALLON)))
        }
        _ => Err(malformed(format!("{} is not a number of gallons", quoted(size)))),
    }
}

/// The size as a length; a bare number is asked about, whatever the sheet is drawn in.
fn in_unit(start: &Scan, after: &Scan, size: &str, units: [&str; 2]) -> Result<Length, Unread> {
    match length(size, None) {
        Ok(length) if length.value > Length::ZERO => Ok(length.value),
        Ok(_) => Err(malformed("a size must be more than zero")),
        Err(Unread::Ask(question)) => {
            let is_unit = !question.choices.iter().any(|choice| choice.ends_with('"'));
            let sizes =
                if is_unit { units.map(|unit| format!("{size}{unit}")).to_vec() } else { question.choices };
            let ask_text = format!("In which unit is {}?", quoted(size));
            let tail = after.text.strip_prefix(start.taken()).unwrap_or_default();
            Err(ask(
                ask_text,
                sizes.iter().map(|choice| format!("{}{}", start.taken(), tail.replacen(size, choice, 1))),
            ))
        }
        Err(other) => Err(other),
    }
}
