//! Numbers: decimals with thousands commas, fractions, and both together.

use super::scan::Scan;
use super::{Unread, ask, malformed, quoted};

/// How a number was spelled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Spelling {
    /// `12`
    Whole,
    /// `12.38`, with this many places.
    Decimal(usize),
    /// `1/2` or `½`
    Fraction,
    /// `4 1/2` or `4½`
    Mixed,
    /// `4-1/2`
    Hyphened,
}

/// A number that is not negative.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Number {
    pub(super) value: f64,
    /// The smallest step its spelling shows: 0.01 for `12.38`, 1/8 for `3/8`.
    pub(super) step: f64,
    pub(super) spelling: Spelling,
    /// One comma and no point: `3,050`, which some metric sheets mean as a decimal comma.
    pub(super) one_comma: bool,
}

impl Number {
    pub(super) fn is_whole(&self) -> bool {
        self.spelling == Spelling::Whole
    }

    pub(super) fn has_fraction(&self) -> bool {
        matches!(self.spelling, Spelling::Fraction | Spelling::Mixed | Spelling::Hyphened)
    }
}

const VULGAR: &[(char, f64, f64)] = &[
    ('½', 1.0, 2.0),
    ('¼', 1.0, 4.0),
    ('¾', 3.0, 4.0),
    ('⅛', 1.0, 8.0),
    ('⅜', 3.0, 8.0),
    ('⅝', 5.0, 8.0),
    ('⅞', 7.0, 8.0),
    ('⅓', 1.0, 3.0),
    ('⅔', 2.0, 3.0),
];

/// Takes `12`, `12.38`, `.5` or `10,019`; none when no number comes next.
pub(super) fn take_decimal(scan: &mut Scan) -> Result<Option<Number>, Unread> {
    let before = *scan;
    let run = scan.take_while(|c| c.is_ascii_digit() || c == '.' || c == ',');
    let run = run.trim_end_matches(['.', ',']);
    scan.rest = &before.rest[run.len()..];
    if !run.contains(|c: char| c.is_ascii_digit()) {
        *scan = before;
        return Ok(None);
    }
    let (whole, places) = match run.split_once('.') {
        Some((whole, part)) if part.bytes().all(|b| b.is_ascii_digit()) => (whole, Some(part.len())),
        Some(_) => return Err(malformed(format!("{} is not one number", quoted(run)))),
        None => (run, None),
    };
    if !is_grouped(whole) {
        return Err(malformed(format!(
            "{} has a comma that does not separate thousands, and a decimal needs a point",
            quoted(run)
        )));
    }
    let digits = run.replace(',', "");
    let value = digits.parse().map_err(|_| malformed(format!("{} is not a number", quoted(run))))?;
    let spelling = places.map_or(Spelling::Whole, Spelling::Decimal);
    let step = (0..places.unwrap_or(0)).fold(1.0, |step, _| step / 10.0);
    let one_comma = places.is_none() && whole.matches(',').count() == 1;
    Ok(Some(Number { value, step, spelling, one_comma }))
}

/// `1,200,000` is grouped; `12,00` and `0,500` are not.
fn is_grouped(whole: &str) -> bool {
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let mut later = groups.peekable();
    let plain = later.peek().is_none();
    plain
        || ((1..=3).contains(&first.len()) && !first.starts_with('0') && later.all(|group| group.len() == 3))
}

/// Takes a decimal, a fraction, or a whole number with a fraction.
pub(super) fn take_number(scan: &mut Scan) -> Result<Option<Number>, Unread> {
    if let Some((over, under)) = take_vulgar(scan) {
        return Ok(Some(fraction(0.0, over, under, Spelling::Fraction)));
    }
    let before = *scan;
    let Some(first) = take_decimal(scan)? else { return Ok(None) };
    if !first.is_whole() {
        return Ok(Some(first));
    }
    if scan.rest.starts_with('/') {
        *scan = before;
        if let Some((over, under)) = take_slashed(scan)? {
            improper(scan, &before, over, under)?;
            return Ok(Some(fraction(0.0, over, under, Spelling::Fraction)));
        }
        take_decimal(scan)?;
        return Ok(Some(first));
    }
    let mut ahead = *scan;
    ahead.skip_spaces();
    let hyphen = ahead.take('-');
    ahead.skip_spaces();
    let spelling = if hyphen { Spelling::Hyphened } else { Spelling::Mixed };
    let part = match take_vulgar(&mut ahead) {
        Some(part) => Some(part),
        None if ahead.rest.len() == scan.rest.len() => None,
        None => take_slashed(&mut ahead)?,
    };
    let Some((over, under)) = part else { return Ok(Some(first)) };
    if over >= under {
        return Err(malformed(format!("the fraction {over}/{under} is not less than one")));
    }
    *scan = ahead;
    Ok(Some(fraction(first.value, over, under, spelling)))
}

fn fraction(whole: f64, over: f64, under: f64, spelling: Spelling) -> Number {
    Number { value: whole + over / under, step: 1.0 / under, spelling, one_comma: false }
}

fn take_vulgar(scan: &mut Scan) -> Option<(f64, f64)> {
    let next = scan.peek()?;
    let (_, over, under) = VULGAR.iter().find(|(sign, ..)| *sign == next)?;
    scan.take(next);
    Some((*over, *under))
}

/// Takes `3/8`; leaves the scan alone when that is not what comes next.
fn take_slashed(scan: &mut Scan) -> Result<Option<(f64, f64)>, Unread> {
    let mut ahead = *scan;
    let over = ahead.take_while(|c| c.is_ascii_digit());
    if over.is_empty() || !ahead.take('/') {
        return Ok(None);
    }
    let under = ahead.take_while(|c| c.is_ascii_digit());
    // `1/4.5` is a quotient, not a fraction.
    if under.is_empty() || ahead.rest.starts_with(['.', '/']) {
        return Ok(None);
    }
    let (Ok(over), Ok(under)) = (over.parse::<f64>(), under.parse::<f64>()) else { return Ok(None) };
    if under == 0.0 {
        return Err(malformed("a fraction has zero below the line"));
    }
    *scan = ahead;
    Ok(Some((over, under)))
}

/// `11/4"` is how 1 1/4 looks when the space is lost: asks when the digits can be split so.
fn improper(scan: &Scan, before: &Scan, over: f64, under: f64) -> Result<(), Unread> {
    let written = &before.rest[..before.rest.len() - scan.rest.len()];
    let digits = written.split('/').next().unwrap_or_default();
    let splits = (1..digits.len())
        .map(|cut| digits.split_at(cut))
        .filter(|(_, part)| !part.starts_with('0') && part.parse::<f64>().is_ok_and(|part| part < under));
    let mut readings: Vec<String> = splits.map(|(whole, part)| format!("{whole} {part}/{under}")).collect();
    if over < under || readings.is_empty() {
        return Ok(());
    }
    let (whole, part) = ((over / under).floor(), over % under);
    let proper = if part == 0.0 { format!("{whole}") } else { format!("{whole} {part}/{under}") };
    if !readings.contains(&proper) {
        readings.push(proper);
    }
    let choices = readings.iter().map(|reading| format!("{}{reading}{}", before.taken(), scan.rest));
    Err(ask(format!("Has {} lost a space, or is it more than a whole?", quoted(scan.text)), choices))
}
