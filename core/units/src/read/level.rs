//! Levels: `FFE 100.50`, `TW=102.3'`, `+100.5`.

use super::length::length;
use super::marks::read_marked;
use super::scan::Scan;
use super::{Kind, Mark, Unread, Written, ask, malformed, quoted};
use crate::{Length, Level, LevelTerm, SheetUnit};

const KIND: Kind = Kind { noun: "a level", like: "for example FFE 100.50, TW 102.3' or +100.5" };

/// Reads a level, with its abbreviation before or behind it if it has one.
///
/// A bare number is feet on a sheet in feet and metres on one in metres.
///
/// # Errors
/// [`Unread::Ask`] for a truncated level (`00.50` may stand for 100.50), and for a bare number on a sheet in inches
/// or millimetres or on none, because levels mostly stay in feet and metres there.
///
/// ```
/// use groundrule_units::{read_level, LevelTerm, SheetUnit};
/// let floor = read_level("FFE 100.50", Some(SheetUnit::Feet))?.value;
/// assert_eq!((floor.term, floor.height.feet()), (Some(LevelTerm::FinishedFloorElevation), 100.5));
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_level(text: &str, sheet: Option<SheetUnit>) -> Result<Written<Level>, Unread> {
    let mut level = read_marked(text, &KIND, |core| level(core, sheet))?;
    // `±0.00` names the datum itself; nothing about it is approximate.
    if level.mark == Mark::Approximate && level.value.height == Length::ZERO {
        level.mark = Mark::Plain;
    }
    Ok(level)
}

fn level(core: &str, sheet: Option<SheetUnit>) -> Result<Level, Unread> {
    let mut scan = Scan::new(core);
    let before = take_term(&mut scan);
    scan.take_while(|c| matches!(c, ' ' | ':' | '=' | '.'));
    take_point_number(&mut scan);
    scan.take_word(&[("el", ()), ("elev", ()), ("elevation", ())]);
    scan.take_while(|c| matches!(c, ' ' | ':' | '='));
    let prefix = scan.taken();
    let (figure, behind) = split_behind(scan.rest);
    let term = match (before, behind) {
        (Some(_), Some(_)) => return Err(malformed("it names two kinds of level")),
        (before, behind) => before.or(behind),
    };
    let suffix = &scan.rest[figure.len()..];
    let height = height(figure, sheet).map_err(|unread| match unread {
        Unread::Ask(question) => {
            let choices = question.choices.iter().map(|choice| format!("{prefix}{choice}{suffix}"));
            ask(question.ask, choices)
        }
        other @ Unread::Malformed(_) => other,
    })?;
    Ok(Level { term, height })
}

fn take_term(scan: &mut Scan) -> Option<LevelTerm> {
    LevelTerm::ALL.iter().find_map(|term| {
        let names = [term.short(), term.meaning()].into_iter().chain(term.aliases().iter().copied());
        let words: Vec<(&str, LevelTerm)> = names.map(|name| (name, *term)).collect();
        scan.take_word(&words)
    })
}

/// `BM #1`
fn take_point_number(scan: &mut Scan) {
    if scan.take('#') {
        scan.take_while(char::is_alphanumeric);
        scan.skip_spaces();
    }
}

/// `100.50 TW`: the figure, and the term behind it.
fn split_behind(text: &str) -> (&str, Option<LevelTerm>) {
    let starts = text.char_indices().filter(|(_, c)| *c == ' ').map(|(at, _)| at);
    for at in starts {
        let mut scan = Scan::new(text[at..].trim_start());
        if let Some(term) = take_term(&mut scan).filter(|_| scan.is_done()) {
            return (&text[..at], Some(term));
        }
    }
    (text, None)
}

fn height(figure: &str, sheet: Option<SheetUnit>) -> Result<Length, Unread> {
    let digits = figure.trim_start_matches(['+', '-', ' ']);
    let sign = &figure[..figure.len() - digits.len()];
    let is_truncated = digits.starts_with('0') && digits[1..].starts_with(|c: char| c.is_ascii_digit());
    let is_bare = digits.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    let is_zero = is_bare && digits.chars().all(|c| matches!(c, '0' | '.'));
    let units = match sheet {
        _ if !is_bare || (is_zero && !is_truncated) => &[""][..],
        Some(SheetUnit::Feet | SheetUnit::Metres) => &[""],
        Some(SheetUnit::Inches) => &[" ft", " in"],
        Some(SheetUnit::Millimetres) => &[" m", " mm"],
        None => &[" ft", " m"],
    };
    let shown = quoted(figure);
    if is_truncated {
        let short = digits.trim_start_matches('0');
        let short = if short.starts_with(|c: char| c.is_ascii_digit()) {
            short.to_owned()
        } else {
            format!("0{short}")
        };
        let choices =
            units.iter().flat_map(|unit| [format!("{sign}1{digits}{unit}"), format!("{sign}{short}{unit}")]);
        return Err(ask(format!("Has the level {shown} lost its leading digits?"), choices));
    }
    if units.len() > 1 {
        let choices = units.iter().map(|unit| format!("{figure}{unit}"));
        return Err(ask(format!("In which unit is the level {shown}?"), choices));
    }
    Ok(length(figure, sheet)?.value)
}
