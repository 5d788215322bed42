//! Degrees, minutes and seconds in every spelling; shared by angles, bearings and curves.

use super::number::{Number, Spelling, take_decimal, take_number};
use super::scan::Scan;
use super::{Figure, Unread, malformed};

/// An angle without its sign, in degrees.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Degrees {
    /// Said so that it has one meaning.
    Sure(Figure<f64>),
    /// `4.30` without a degree mark: a decimal, or degrees and minutes run together: the
    /// figure if it is a decimal, and both readings spelled out.
    Packed { degrees: Figure<f64>, decimal: String, sexagesimal: String },
}

const DEGREE: &[(&str, ())] = &[("°", ()), ("d", ()), ("deg", ()), ("degree", ()), ("degrees", ())];
const MINUTE: &[(&str, ())] = &[("'", ()), ("m", ()), ("min", ()), ("minute", ()), ("minutes", ())];
const SECOND: &[(&str, ())] = &[("\"", ()), ("s", ()), ("sec", ()), ("second", ()), ("seconds", ())];

/// Takes `4°30'00"`, `4 deg 30 min`, `4-30-00`, `4 30 00`, `04.30.00`, `4.5`, `4 1/2` or `4`; none when no number comes next.
pub(super) fn take_degrees(scan: &mut Scan) -> Result<Option<Degrees>, Unread> {
    if let Some(dotted) = take_dotted(scan)? {
        return Ok(Some(Degrees::Sure(dotted)));
    }
    if let Some(fraction) = take_fraction(scan) {
        return Ok(Some(Degrees::Sure(fraction)));
    }
    let before = *scan;
    let Some(first) = take_decimal(scan)? else { return Ok(None) };
    let digits = before.rest[..before.rest.len() - scan.rest.len()].to_owned();
    let mut ahead = *scan;
    ahead.skip_spaces();
    if ahead.take_word(DEGREE).is_some() {
        *scan = ahead;
        ahead.skip_spaces();
        if !ahead.rest.starts_with(|c: char| c.is_ascii_digit()) {
            return Ok(Some(Degrees::Sure(Figure { value: first.value, step: first.step })));
        }
        *scan = ahead;
        return minutes_and_seconds(first, scan, Joint::Marks).map(Some);
    }
    if first.is_whole() && next_is_digit(scan.rest.strip_prefix('-')) {
        scan.take('-');
        return minutes_and_seconds(first, scan, Joint::Hyphen).map(Some);
    }
    if first.is_whole() && next_is_digit(scan.rest.strip_prefix(' ')) {
        scan.skip_spaces();
        return minutes_and_seconds(first, scan, Joint::Space).map(Some);
    }
    Ok(Some(packed(first, &digits)))
}

fn next_is_digit(rest: Option<&str>) -> bool {
    rest.is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
}

/// What stands between the parts.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Joint {
    Marks,
    Hyphen,
    Space,
}

/// The parts behind whole degrees.
fn minutes_and_seconds(degrees: Number, scan: &mut Scan, joint: Joint) -> Result<Degrees, Unread> {
    if !degrees.is_whole() {
        return Err(malformed("degrees that have minutes behind them must be a whole number"));
    }
    let Some(minutes) = take_decimal(scan)? else { return Err(malformed("the minutes are missing")) };
    let mut ahead = *scan;
    let joined = match joint {
        Joint::Marks => {
            ahead.skip_spaces();
            let marked = ahead.take_word(MINUTE).is_some();
            if marked {
                *scan = ahead;
                ahead.skip_spaces();
            }
            marked
        }
        Joint::Hyphen => ahead.take('-'),
        Joint::Space => ahead.take(' '),
    };
    let seconds = if joined && next_is_digit(Some(ahead.rest)) {
        *scan = ahead;
        let seconds = take_decimal(scan)?;
        if joint == Joint::Marks {
            scan.skip_spaces();
            scan.take_word(SECOND);
        }
        seconds
    } else {
        None
    };
    if seconds.is_some() && !minutes.is_whole() {
        return Err(malformed("minutes that have seconds behind them must be a whole number"));
    }
    let sixty = |part: &Number| part.value >= 60.0;
    if sixty(&minutes) || seconds.as_ref().is_some_and(sixty) {
        return Err(malformed("minutes and seconds must be under 60"));
    }
    Ok(Degrees::Sure(Figure {
        value: degrees.value + (minutes.value + seconds.map_or(0.0, |s| s.value) / 60.0) / 60.0,
        step: seconds.map_or(minutes.step / 60.0, |s| s.step / 3600.0),
    }))
}

/// Takes `23 1/2`, as old deeds write.
fn take_fraction(scan: &mut Scan) -> Option<Figure<f64>> {
    let mut ahead = *scan;
    // What this cannot take may still be degrees and minutes.
    let number = take_number(&mut ahead).ok()??;
    if !matches!(number.spelling, Spelling::Fraction | Spelling::Mixed) {
        return None;
    }
    *scan = ahead;
    ahead.skip_spaces();
    if ahead.take_word(DEGREE).is_some() {
        *scan = ahead;
    }
    Some(Figure { value: number.value, step: number.step })
}

/// Takes `04.30.00`.
fn take_dotted(scan: &mut Scan) -> Result<Option<Figure<f64>>, Unread> {
    let mut ahead = *scan;
    let run = ahead.take_while(|c| c.is_ascii_digit() || c == '.').trim_end_matches('.');
    let parts: Vec<&str> = run.split('.').collect();
    let [degrees, minutes, seconds] = parts[..] else { return Ok(None) };
    scan.rest = &scan.rest[run.len()..];
    let part = |digits: &str| digits.parse::<f64>().map_err(|_| malformed("a part of the angle is missing"));
    let (degrees, minutes, seconds) = (part(degrees)?, part(minutes)?, part(seconds)?);
    if minutes >= 60.0 || seconds >= 60.0 {
        return Err(malformed("minutes and seconds must be under 60"));
    }
    Ok(Some(Figure { value: degrees + (minutes + seconds / 60.0) / 60.0, step: 1.0 / 3600.0 }))
}

/// A number without any mark. Two or four places that could be minutes and seconds leave a question.
fn packed(number: Number, digits: &str) -> Degrees {
    let degrees = Figure { value: number.value, step: number.step };
    let sure = Degrees::Sure(degrees);
    let Some((whole, places)) = digits.split_once('.') else { return sure };
    if !matches!(number.spelling, Spelling::Decimal(2 | 4)) || whole.is_empty() {
        return sure;
    }
    let (minutes, seconds) = places.split_at(2);
    let under_sixty = |part: &str| part.is_empty() || part.parse::<u8>().is_ok_and(|part| part < 60);
    let is_zero = places.bytes().all(|b| b == b'0');
    if is_zero || !under_sixty(minutes) || !under_sixty(seconds) {
        return sure;
    }
    let seconds = if seconds.is_empty() { String::new() } else { format!("{seconds}\"") };
    Degrees::Packed {
        degrees,
        decimal: format!("{digits}°"),
        sexagesimal: format!("{whole}°{minutes}'{seconds}"),
    }
}
