//! Slopes and shares: percent, rise in run, rise per foot, ratios.

use super::length::{WORDS, length};
use super::marks::read_marked;
use super::number::{Number, Spelling, take_number};
use super::scan::Scan;
use super::{Kind, Question, Unread, Written, ask, malformed, quoted};
use crate::{Length, Ratio};

const KIND: Kind =
    Kind { noun: "a slope or a share", like: "for example 2%, 1 in 50, 1/4\"/ft or 6\" in 10'" };

/// How the two numbers of `1:3` stand to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SlopeSense {
    /// Rise to run, as on ramps: `1:12`.
    Ramp,
    /// Run to rise, as on banks of earth: `3:1`.
    Bank,
}

/// Reads a slope or a share: `2%`, `1 in 50`, `1/4"/ft`, `6" in 10'`, `3H:1V`.
///
/// # Errors
/// [`Unread::Ask`] for a bare number (`0.02` and `2` both stand in percent columns) and for `1:3`; [`read_slope`]
/// reads the latter where the sense is known.
///
/// ```
/// use groundrule_units::read_ratio;
/// assert_eq!(read_ratio("1 in 50")?.value.percent(), 2.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_ratio(text: &str) -> Result<Written<Ratio>, Unread> {
    read_marked(text, &KIND, |core| with_note(core, None))
}

/// Reads a slope whose ratios have a known sense.
///
/// # Errors
/// As [`read_ratio`], but `1:12` is asked about only when it is steeper than 1:1: then the numbers may be swapped.
///
/// ```
/// use groundrule_units::{read_slope, SlopeSense};
/// let bank = read_slope("4:1", SlopeSense::Bank)?;
/// assert_eq!(bank.value.percent(), 25.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_slope(text: &str, sense: SlopeSense) -> Result<Written<Ratio>, Unread> {
    read_marked(text, &KIND, |core| with_note(core, Some(sense)))
}

/// `1/4"/ft (2.08%)`: the note in brackets must say the same to its last place.
fn with_note(core: &str, sense: Option<SlopeSense>) -> Result<Ratio, Unread> {
    let Some((main, note)) = core.strip_suffix(')').and_then(|core| core.split_once('(')) else {
        return slope(core, sense);
    };
    let (main, note) = (main.trim(), note.trim());
    let Some(Percent { ratio: noted, step }) = percent(note)? else {
        return Err(malformed(format!("the note ({note}) is not a percentage")));
    };
    let slope = slope(main, sense)?;
    if (slope.fraction().abs() - noted.fraction().abs()).abs() <= step.fraction() * 0.5 + 1e-12 {
        return Ok(slope);
    }
    Err(ask(
        format!("{} gives two different slopes: which of them counts?", quoted(core)),
        [main.to_owned(), note.to_owned()],
    ))
}

fn slope(core: &str, sense: Option<SlopeSense>) -> Result<Ratio, Unread> {
    let trimmed = ["slope", "grade"].iter().find_map(|word| core.strip_suffix(word)).unwrap_or(core).trim();
    if let Some(percent) = percent(trimmed)? {
        return Ok(percent.ratio);
    }
    let mut scan = Scan::new(trimmed);
    let sign = scan.take_sign();
    let signed = |question: Question| {
        ask(
            question.ask,
            question
                .choices
                .iter()
                .map(|choice| if sign < 0.0 { format!("-{choice}") } else { choice.clone() }),
        )
    };
    let read = match split(scan.rest) {
        Some((rise, joint, run)) => rise_and_run(scan.rest, rise, joint, run, sense),
        None => bare(scan.rest),
    };
    match read {
        Ok(ratio) => Ok(ratio * sign),
        Err(Unread::Ask(question)) => Err(signed(question)),
        Err(other) => Err(other),
    }
}

struct Percent {
    ratio: Ratio,
    step: Ratio,
}

fn percent(text: &str) -> Result<Option<Percent>, Unread> {
    let mut scan = Scan::new(text);
    let sign = scan.take_sign();
    let Ok(Some(number)) = take_number(&mut scan) else { return Ok(None) };
    scan.skip_spaces();
    if scan.take_word(&[("%", ()), ("percent", ()), ("per cent", ()), ("pct", ())]).is_none() {
        return Ok(None);
    }
    if !scan.is_done() {
        return Err(malformed(format!("{} is left over behind the percentage", quoted(scan.rest))));
    }
    let ratio = Ratio::from_percent(number.value * sign);
    Ok(Some(Percent { ratio, step: Ratio::from_percent(number.step) }))
}

/// What stands on one side of the joint.
#[derive(Clone, Copy, Debug)]
enum Amount {
    Bare(Number),
    Level(f64),
    Upright(f64),
    Measured(Length),
}

/// What joins rise and run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Joint {
    /// `:` or `to`, or `/` between bare numbers: the sense is open.
    Ratio,
    /// `in`, `per`: rise first.
    RiseInRun,
}

const JOINTS: &[(&str, Joint)] = &[
    (":", Joint::Ratio),
    (" to ", Joint::Ratio),
    ("/", Joint::Ratio),
    (" in ", Joint::RiseInRun),
    (" per ", Joint::RiseInRun),
    (" over ", Joint::RiseInRun),
];

/// Tries each joint at each place; the first split with a sensible amount on both sides.
pub(super) fn split(text: &str) -> Option<(&str, Joint, &str)> {
    JOINTS.iter().find_map(|(word, joint)| {
        text.char_indices().filter(|(at, _)| text[*at..].starts_with(word)).find_map(|(at, _)| {
            let rise = text[..at].trim();
            let run = text[at + word.len()..].trim();
            let sensible = matches!(amount(rise), Ok(_) | Err(Unread::Ask(_))) && run_amount(run).is_some();
            let is_fraction = *word == "/" && is_stroke_of_fraction(rise, run);
            (sensible && !is_fraction).then_some((rise, *joint, run))
        })
    })
}

/// In `5'-1/2"` the stroke belongs to a fraction; in `1/12` both sides are numbers and nothing else.
fn is_stroke_of_fraction(rise: &str, run: &str) -> bool {
    let is_number = |text: &str| text.chars().all(|c| c.is_ascii_digit() || c == '.');
    let between_digits =
        rise.ends_with(|c: char| c.is_ascii_digit()) && run.starts_with(|c: char| c.is_ascii_digit());
    between_digits && !(is_number(rise) && is_number(run))
}

fn amount(text: &str) -> Result<Amount, Unread> {
    let mut scan = Scan::new(text);
    let Some(number) = take_number(&mut scan)? else { return Err(malformed("a number is missing")) };
    scan.skip_spaces();
    match scan.rest {
        "" => Ok(Amount::Bare(number)),
        "h" | "H" => Ok(Amount::Level(number.value)),
        "v" | "V" => Ok(Amount::Upright(number.value)),
        _ => Ok(Amount::Measured(length(text, None)?.value)),
    }
}

/// The run may be a unit alone: `per foot`.
fn run_amount(text: &str) -> Option<Amount> {
    let mut scan = Scan::new(text);
    if let Some(word) = scan.take_word(WORDS) {
        return scan
            .is_done()
            .then(|| word.unit(text).ok().map(|unit| Amount::Measured(unit.one())))
            .flatten();
    }
    amount(text).ok()
}

fn rise_and_run(
    core: &str,
    rise: &str,
    joint: Joint,
    run: &str,
    sense: Option<SlopeSense>,
) -> Result<Ratio, Unread> {
    let first = amount(rise).map_err(|unread| match unread {
        Unread::Ask(question) => {
            ask(question.ask, question.choices.iter().map(|choice| core.replacen(rise, choice, 1)))
        }
        malformed @ Unread::Malformed(_) => malformed,
    })?;
    let Some(second) = run_amount(run) else { return Err(malformed("the run is missing")) };
    match (first, second) {
        (Amount::Bare(a), Amount::Bare(b)) if joint == Joint::RiseInRun => over(a.value, b.value),
        (Amount::Bare(a), Amount::Bare(b)) => ratio(core, [rise, run], [a.value, b.value], sense),
        (Amount::Upright(rise), Amount::Level(run)) | (Amount::Level(run), Amount::Upright(rise)) => {
            over(rise, run)
        }
        (Amount::Measured(rise), Amount::Measured(run)) => over(rise.metres(), run.metres()),
        (Amount::Bare(_), Amount::Measured(_)) => {
            let choices = ["\"", "'"].map(|mark| format!("{rise}{mark} in {}", spelled_run(run)));
            Err(ask(format!("Is the rise of {} in inches or in feet?", quoted(core)), choices))
        }
        (Amount::Measured(_), Amount::Bare(_)) => {
            let choices = ["'", "\""].map(|mark| format!("{rise} in {run}{mark}"));
            Err(ask(format!("Is the run of {} in feet or in inches?", quoted(core)), choices))
        }
        _ => Err(malformed("rise and run are not of one kind")),
    }
}

/// `ft` alone becomes `1 ft`.
fn spelled_run(run: &str) -> String {
    if Scan::new(run).take_word(WORDS).is_some() { format!("1 {run}") } else { run.to_owned() }
}

fn over(rise: f64, run: f64) -> Result<Ratio, Unread> {
    if run == 0.0 { Err(malformed("the run is zero")) } else { Ok(Ratio::from_fraction(rise / run)) }
}

/// `1:3`, by the sense that is known; asks when none is, or when that makes it steeper than 1:1.
fn ratio(
    core: &str,
    texts: [&str; 2],
    numbers: [f64; 2],
    sense: Option<SlopeSense>,
) -> Result<Ratio, Unread> {
    let [a, b] = numbers;
    if a == 0.0 || b == 0.0 {
        return Err(malformed("a ratio of zero has no one meaning"));
    }
    match sense {
        _ if a.total_cmp(&b).is_eq() => Ok(Ratio::from_fraction(1.0)),
        Some(SlopeSense::Ramp) if a < b => over(a, b),
        Some(SlopeSense::Bank) if a > b => over(b, a),
        _ => {
            let [first, second] = texts;
            let choices = [format!("{first} in {second}"), format!("{second} in {first}")];
            let ask_text =
                format!("Is {} rise to run, as on a ramp, or run to rise, as on a bank?", quoted(core));
            Err(ask(ask_text, choices))
        }
    }
}

/// A number alone may be a share of one or a percentage.
fn bare(core: &str) -> Result<Ratio, Unread> {
    let mut scan = Scan::new(core);
    let Some(number) = take_number(&mut scan)? else {
        return Err(malformed("it does not start with a number"));
    };
    scan.skip_spaces();
    if !scan.is_done() {
        return Err(malformed(format!("{} does not make it a slope", quoted(scan.rest))));
    }
    if number.value == 0.0 {
        return Ok(Ratio::ZERO);
    }
    let places = match number.spelling {
        Spelling::Decimal(places) => places.saturating_sub(2),
        Spelling::Whole => 0,
        Spelling::Fraction | Spelling::Mixed | Spelling::Hyphened => 4,
    };
    let choices = [format!("{core} %"), format!("{:.places$} %", number.value * 100.0)];
    Err(ask(format!("Is {} a percentage or a part of one?", quoted(core)), choices))
}
