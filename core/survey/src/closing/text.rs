//! What a written figure may have been before a mistake: changes of its text, read again.

use groundrule_units::{
    Length, LengthUnit, SheetUnit, Style, Written, read_length, read_length_rounding, show,
};

use super::CandidateKind;

/// A text that may have been meant, and what it says.
pub(super) struct Edit {
    pub(super) kind: CandidateKind,
    pub(super) text: String,
    pub(super) value: Length,
}

/// One foot, with room for rounding.
fn is_foot(unit: Length) -> bool {
    (unit - LengthUnit::Foot.one()).abs() < Length::from_metres(1e-9)
}

/// The length a text says, if it says one without a question.
fn length(text: &str, sheet: Option<SheetUnit>) -> Option<Length> {
    read_length(text, sheet).ok().map(|written| written.value).filter(|value| value.is_finite())
}

/// True when the text says the value; only then is it worth changing.
fn says(written: &Written<Length>, sheet: Option<SheetUnit>) -> bool {
    let tolerance = Length::from_metres(1e-9 + 1e-12 * written.value.metres().abs());
    length(&written.text, sheet).is_some_and(|value| (value - written.value).abs() <= tolerance)
}

/// Half of the smallest step the text shows; none when it cannot be read.
pub(super) fn half_step(written: &Written<Length>, sheet: Option<SheetUnit>) -> Option<Length> {
    read_length_rounding(&written.text, sheet).ok().filter(|step| step.is_finite())
}

/// Every single mistake that the figure may hold, with what was meant; only lengths more than zero.
pub(super) fn edits(written: &Written<Length>, sheet: Option<SheetUnit>) -> Vec<Edit> {
    if !says(written, sheet) {
        return Vec::new();
    }
    let text = written.text.as_str();
    let mut texts: Vec<(CandidateKind, String)> = Vec::new();
    texts.extend(swaps(text, false).into_iter().map(|text| (CandidateKind::SwappedDigits, text)));
    let unit = counted_unit(text, sheet);
    if unit.is_some_and(is_foot) {
        texts.extend(inches_meant(text).map(|text| (CandidateKind::InchesAsDecimals, text)));
        texts.extend(decimals_meant(text).map(|text| (CandidateKind::DecimalsAsInches, text)));
    }
    texts.extend(other_units(text).into_iter().map(|text| (CandidateKind::WrongUnit, text)));
    for count in unit.map_or(&[][..], round_counts) {
        let (dropped, added) = (i64::from(*count), -i64::from(*count));
        texts.extend(shifted(text, dropped).map(|text| (CandidateKind::Dropped(*count), text)));
        texts.extend(shifted(text, added).map(|text| (CandidateKind::Added(*count), text)));
    }
    texts.extend(misread(text).into_iter().map(|text| (CandidateKind::MisreadDigit, text)));
    let read = |(kind, text): (CandidateKind, String)| {
        let value = length(&text, sheet)?;
        (value > Length::ZERO && value != written.value).then_some(Edit { kind, text, value })
    };
    texts.into_iter().filter_map(read).collect()
}

/// The counts of a unit that are lost or gained in counting: tens and hundreds of feet, a metre, a foot of inches.
fn round_counts(unit: Length) -> &'static [u16] {
    let metres = unit.metres();
    if metres < 0.005 {
        &[1000]
    } else if metres < 0.02 {
        &[100]
    } else if metres < 0.1 {
        &[12, 10]
    } else if metres < 0.5 {
        &[10, 1, 100]
    } else if metres < 10.0 {
        &[10, 1]
    } else {
        &[1]
    }
}

/// What one more of the first number makes: the unit it counts.
fn counted_unit(text: &str, sheet: Option<SheetUnit>) -> Option<Length> {
    let unit = length(&shifted(text, 1)?, sheet)? - length(text, sheet)?;
    (unit > Length::ZERO).then_some(unit)
}

/// A run of digits by its place in the characters: from the first to after the last.
type Run = (usize, usize);

/// The runs of digits of a text; a comma between digits belongs to its run.
fn runs(chars: &[char]) -> Vec<Run> {
    let is_digit = |i: usize| chars.get(i).is_some_and(char::is_ascii_digit);
    let mut runs: Vec<Run> = Vec::new();
    for i in 0..chars.len() {
        if !is_digit(i) {
            continue;
        }
        match runs.last_mut() {
            Some(run) if run.1 == i || (run.1 + 1 == i && chars.get(run.1) == Some(&',')) => run.1 = i + 1,
            _ => runs.push((i, i + 1)),
        }
    }
    runs
}

/// True for a numerator or a denominator.
fn is_fraction(chars: &[char], run: Run) -> bool {
    let before = run.0.checked_sub(1).and_then(|i| chars.get(i));
    before == Some(&'/') || chars.get(run.1) == Some(&'/')
}

/// Every text with two different neighbouring digits changed about, also across a decimal point.
///
/// Whole numbers do not come to begin with a nought unless `noughts` says that they may, as minutes do.
pub(super) fn swaps(text: &str, noughts: bool) -> Vec<String> {
    let chars: Vec<char> = text.chars().collect();
    let mut texts = Vec::new();
    let runs = runs(&chars);
    let places: Vec<(usize, bool)> = runs
        .iter()
        .filter(|run| !is_fraction(&chars, **run))
        .flat_map(|run| (run.0..run.1).map(|i| (i, i == run.0)))
        .filter(|(i, _)| chars.get(*i).is_some_and(char::is_ascii_digit))
        .collect();
    for pair in places.windows(2) {
        let [(i, starts), (j, _)] = pair else { continue };
        let between = chars.get(i + 1..*j).unwrap_or_default();
        let (Some(first), Some(second)) = (chars.get(*i), chars.get(*j)) else { continue };
        let after_point = i.checked_sub(1).and_then(|i| chars.get(i)) == Some(&'.');
        let nought = *second == '0' && *starts && !after_point && between.is_empty() && !noughts;
        if first == second || nought || !matches!(between, [] | ['.' | ',']) {
            continue;
        }
        let mut changed = chars.clone();
        changed.swap(*i, *j);
        texts.push(changed.into_iter().collect());
    }
    texts
}

/// Every text with one digit read as another.
fn misread(text: &str) -> Vec<String> {
    let chars: Vec<char> = text.chars().collect();
    let mut texts = Vec::new();
    for run in runs(&chars).into_iter().filter(|run| !is_fraction(&chars, *run)) {
        let after_point = run.0.checked_sub(1).and_then(|i| chars.get(i)) == Some(&'.');
        for i in run.0..run.1 {
            let leads = i == run.0 && run.1 - run.0 > 1 && !after_point;
            for digit in '0'..='9' {
                if chars.get(i).is_none_or(|old| !old.is_ascii_digit() || *old == digit)
                    || (leads && digit == '0')
                {
                    continue;
                }
                let other = |(j, old): (usize, &char)| if j == i { digit } else { *old };
                texts.push(chars.iter().enumerate().map(other).collect());
            }
        }
    }
    texts
}

/// The text with so many more in its first whole number.
fn shifted(text: &str, by: i64) -> Option<String> {
    let chars: Vec<char> = text.chars().collect();
    let run = *runs(&chars).first()?;
    let before = run.0.checked_sub(1).and_then(|i| chars.get(i));
    if is_fraction(&chars, run) || before == Some(&'.') {
        return None;
    }
    let digits: String = chars.get(run.0..run.1)?.iter().filter(|c| **c != ',').collect();
    let number = digits.parse::<i64>().ok()?.checked_add(by).filter(|number| *number >= 0)?;
    let (head, tail): (String, String) =
        (chars.get(..run.0)?.iter().collect(), chars.get(run.1..)?.iter().collect());
    Some(format!("{head}{number}{tail}"))
}

/// One plain number and what stands behind it, marks left off.
struct Plain {
    whole: String,
    places: Option<String>,
    unit: String,
}

impl Plain {
    /// None for a text with more than one number, or with a fraction.
    fn of(text: &str) -> Option<Self> {
        let behind = ["(", "±", "~", "+/-", " approx", " more or less"];
        let end = behind.iter().filter_map(|mark| text.find(mark)).filter(|i| *i > 0).min();
        let text = text.get(..end.unwrap_or(text.len()))?.trim();
        let start = text.find(|c: char| c.is_ascii_digit() || c == '.')?;
        let text = text.get(start..)?;
        let after = text.find(|c: char| !(c.is_ascii_digit() || c == '.' || c == ','));
        let (number, unit) = text.split_at_checked(after.unwrap_or(text.len()))?;
        if unit.contains(|c: char| c.is_numeric() || c == '/') {
            return None;
        }
        let number = number.replace(',', "");
        let (whole, places) = match number.split_once('.') {
            Some((whole, places)) => (whole.to_owned(), Some(places.to_owned())),
            None => (number, None),
        };
        Some(Self { whole, places, unit: unit.to_owned() })
    }

    fn number(&self) -> String {
        match &self.places {
            Some(places) => format!("{}.{places}", self.whole),
            None => self.whole.clone(),
        }
    }
}

/// `12'-8"` for `12.8 ft`.
fn inches_meant(text: &str) -> Option<String> {
    let plain = Plain::of(text)?;
    let places = plain.places.as_deref().filter(|places| places.len() <= 2)?;
    let inches = places.parse::<u8>().ok().filter(|inches| (1..12).contains(inches))?;
    (!plain.whole.is_empty()).then(|| format!("{}'-{inches}\"", plain.whole))
}

/// `12.8 ft` for `12'-8"`.
fn decimals_meant(text: &str) -> Option<String> {
    let chars: Vec<char> = text.chars().collect();
    let runs = runs(&chars);
    let [feet, inches] = runs.as_slice() else { return None };
    let between: String = chars.get(feet.1..inches.0)?.iter().collect();
    if between.contains(['.', '/']) || is_fraction(&chars, *inches) || text.contains('.') {
        return None;
    }
    let part = |run: &Run| chars.get(run.0..run.1).map(|part| part.iter().collect::<String>());
    let (feet, inches) = (part(feet)?, part(inches)?);
    let few = inches.parse::<u8>().is_ok_and(|inches| (1..12).contains(&inches));
    few.then(|| format!("{} ft", [feet, inches].join(".")))
}

/// The number with each other everyday unit.
fn other_units(text: &str) -> Vec<String> {
    const UNITS: [&str; 6] = ["ft", "in", "yd", "m", "cm", "mm"];
    let Some(plain) = Plain::of(text) else { return Vec::new() };
    UNITS.iter().map(|unit| format!("{} {unit}", plain.number())).collect()
}

/// A length written in the notation of another figure, as far as that can show it.
pub(super) fn written_like(text: &str, sheet: Option<SheetUnit>, value: Length) -> String {
    let metric = sheet.is_some_and(SheetUnit::is_metric);
    let fallback = || show(value.into(), if metric { Style::Metres } else { Style::DecimalFeet });
    let Some(plain) = Plain::of(text) else {
        return show(value.into(), if metric { Style::Metres } else { Style::FeetInches });
    };
    let Some(unit) = length(&format!("1{}", plain.unit), sheet).filter(|unit| *unit > Length::ZERO) else {
        return fallback();
    };
    let places = plain.places.as_ref().map_or(0, String::len);
    let number = format!("{:.places$}", (value / unit).fraction());
    if number.parse::<f64>().is_ok_and(|number| number != 0.0) {
        format!("{number}{}", plain.unit)
    } else {
        fallback()
    }
}
