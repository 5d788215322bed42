//! What a written bearing may have been before a mistake.

use groundrule_units::{Angle, Bearing, Written, read_bearing};

use super::CandidateKind;
use super::text::swaps;

/// Bearings nearer than this are the same: a bearing shown to the second is off by half of one.
const SAME_BEARING: f64 = 3e-6;

/// A bearing that may have been meant.
pub(super) struct BearingEdit {
    pub(super) kind: CandidateKind,
    pub(super) text: String,
    pub(super) value: Bearing,
}

fn is_same(a: Bearing, b: Bearing) -> bool {
    let turn = (a.azimuth() - b.azimuth()).radians().abs();
    turn.min(2.0 * std::f64::consts::PI - turn) < SAME_BEARING
}

/// Every single mistake that the bearing may hold: a letter, the way round, two digits.
pub(super) fn bearing_edits(written: &Written<Bearing>) -> Vec<BearingEdit> {
    let (text, value) = (written.text.trim(), written.value);
    if !read_bearing(text).is_ok_and(|read| is_same(read.value, value)) {
        return Vec::new();
    }
    let azimuth = value.azimuth();
    let mut tried: Vec<BearingEdit> = Vec::new();
    let mut edit = |kind: CandidateKind, text: Option<String>, meant: Bearing| {
        let again = tried.iter().any(|earlier| is_same(earlier.value, meant));
        if !again && !is_same(meant, value) {
            // A text whose letters cannot be changed in place is written anew.
            let text = text.filter(|text| read_bearing(text).is_ok_and(|read| is_same(read.value, meant)));
            tried.push(BearingEdit { kind, text: text.unwrap_or_else(|| meant.to_string()), value: meant });
        }
    };
    let half_turn = Angle::from_radians(std::f64::consts::PI);
    if text.to_ascii_lowercase().starts_with(['n', 's', 'd']) {
        let other_end = Bearing::from_azimuth(half_turn - azimuth);
        let other_side = Bearing::from_azimuth(-azimuth);
        edit(CandidateKind::QuadrantLetter, with_end(text), other_end);
        edit(CandidateKind::QuadrantLetter, with_side(text), other_side);
    }
    let around = with_end(text).and_then(|text| with_side(&text));
    edit(CandidateKind::Reversed, around, value.reversed());
    for text in swaps(text, true) {
        if let Ok(read) = read_bearing(&text) {
            edit(CandidateKind::SwappedDigits, Some(text), read.value);
        }
    }
    tried
}

/// The text with its first letter, north or south, changed for the other.
fn with_end(text: &str) -> Option<String> {
    let mut chars = text.chars();
    let other = other_letter(chars.next()?)?;
    let rest = chars.as_str();
    (!rest.starts_with(char::is_alphabetic)).then(|| format!("{other}{rest}"))
}

/// The text with its last letter, east or west, changed for the other.
fn with_side(text: &str) -> Option<String> {
    let mut chars = text.chars();
    let other = other_letter(chars.next_back()?)?;
    let rest = chars.as_str();
    (!rest.ends_with(char::is_alphabetic)).then(|| format!("{rest}{other}"))
}

fn other_letter(letter: char) -> Option<char> {
    Some(match letter {
        'N' => 'S',
        'S' => 'N',
        'E' => 'W',
        'W' => 'E',
        'n' => 's',
        's' => 'n',
        'e' => 'w',
        'w' => 'e',
        _ => return None,
    })
}

/// Half of the smallest step the text shows: half a minute for `N 4°30' E`; none for `due north` and for a text
/// that is not a bearing.
pub(super) fn bearing_half_step(written: &Written<Bearing>) -> Angle {
    let text = written.text.as_str();
    if read_bearing(text).is_err() {
        return Angle::ZERO;
    }
    if text.contains('/') {
        // Old deeds give halves and quarters of a degree.
        return Angle::from_degrees(0.125);
    }
    let is_part = |part: &&str| part.contains(|c: char| c.is_ascii_digit());
    let parts: Vec<&str> = text.split(|c: char| !(c.is_ascii_digit() || c == '.')).filter(is_part).collect();
    let Some(last) = parts.last() else { return Angle::ZERO };
    let dots = last.matches('.').count();
    let unit = match parts.len() {
        1 if dots > 1 => return Angle::from_degrees(0.5 / 3600.0),
        1 => 1.0,
        2 => 1.0 / 60.0,
        _ => 1.0 / 3600.0,
    };
    let places = last.split_once('.').map_or(0, |(_, places)| places.len());
    Angle::from_degrees((0..places).fold(unit / 2.0, |step, _| step / 10.0))
}
