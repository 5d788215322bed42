//! Which way north lies on the sheet, in words.

use super::angle::{SENSE, leading_angle};
use super::bearing::bearing;
use super::marks::read_marked;
use super::scan::Scan;
use super::{Kind, Unread, Written, ask, malformed, quoted};
use crate::{Angle, NorthKind, Orientation};

const KIND: Kind = Kind {
    noun: "a direction of north",
    like: "for example up, 18 deg clockwise of up, or up is N 4°30' E",
};

/// Reads the direction of north on the sheet: `18 deg clockwise of up`, `up`, `up is 18 deg clockwise of north`,
/// `up is N 4°30' E`, with `true`, `grid` or `magnetic` if it is said.
///
/// # Errors
/// [`Unread::Ask`] for an angle without its sense or without what it is measured from, and for `plan north`.
///
/// ```
/// use groundrule_units::read_orientation;
/// let north = read_orientation("18 deg clockwise of up")?.value;
/// assert_eq!(north.clockwise_of_up.degrees().round(), 18.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_orientation(text: &str) -> Result<Written<Orientation>, Unread> {
    read_marked(text, &KIND, |core| {
        let (north, words) = take_kind(core);
        let clockwise_of_up = direction(&words).map_err(|unread| carry_kind(unread, north))?;
        Ok(Orientation { clockwise_of_up, north })
    })
}

const KINDS: &[(&str, NorthKind)] =
    &[("true", NorthKind::True), ("grid", NorthKind::Grid), ("magnetic", NorthKind::Magnetic)];

/// Takes the kind of north out of the words.
fn take_kind(core: &str) -> (NorthKind, String) {
    let mut kind = NorthKind::Unsaid;
    let mut words = Vec::new();
    for word in core.split(' ') {
        let bare = word.trim_matches([',', ';', '(', ')']);
        match KINDS.iter().find(|(name, _)| name.eq_ignore_ascii_case(bare)) {
            Some((_, found)) if kind == NorthKind::Unsaid => kind = *found,
            _ if word.is_empty() => {}
            _ => words.push(word),
        }
    }
    (kind, words.join(" ").trim_end_matches([',', ';']).to_owned())
}

fn carry_kind(unread: Unread, kind: NorthKind) -> Unread {
    let name = KINDS.iter().find(|(_, named)| *named == kind).map(|(name, _)| *name);
    match (unread, name) {
        (Unread::Ask(question), Some(name)) => {
            ask(question.ask, question.choices.iter().map(|choice| format!("{choice}, {name}")))
        }
        (unread, _) => unread,
    }
}

/// Directions on the sheet, clockwise from up.
const SHEET: &[(&str, f64)] = &[("up", 0.0), ("right", 90.0), ("down", 180.0), ("left", -90.0)];

fn direction(words: &str) -> Result<Angle, Unread> {
    let mut scan = Scan::new(words);
    if scan.take_word(&[("up is", ())]).is_some() {
        scan.skip_spaces();
        return up_is(scan.rest).map_err(behind_up_is);
    }
    if take_north(&mut scan) && scan.is_done() {
        return Err(which_way(words));
    }
    if let Some(degrees) = scan.take_word(SHEET) {
        return if scan.is_done() { Ok(Angle::from_degrees(degrees)) } else { Err(leftover(&scan)) };
    }
    turned(scan.rest, "up")
}

fn behind_up_is(unread: Unread) -> Unread {
    match unread {
        Unread::Ask(question) => {
            ask(question.ask, question.choices.iter().map(|choice| format!("up is {choice}")))
        }
        other @ Unread::Malformed(_) => other,
    }
}

/// `north is`, `plan north`, `N arrow`.
fn take_north(scan: &mut Scan) -> bool {
    let phrases = [("north is", ()), ("north", ()), ("plan north", ()), ("N arrow", ()), ("north arrow", ())];
    let found = scan.take_word(&phrases).is_some();
    scan.take_while(|c| matches!(c, ' ' | ':' | '='));
    found
}

/// What up is: so far from north, or a bearing.
fn up_is(rest: &str) -> Result<Angle, Unread> {
    let mut scan = Scan::new(rest);
    if take_north(&mut scan) && scan.is_done() {
        return Ok(Angle::ZERO);
    }
    match bearing(rest) {
        // A plain azimuth has no letters: it could as well be a turn without its sense.
        Ok(up) if rest.starts_with(char::is_alphabetic) => Ok(-up.azimuth()),
        Err(question @ Unread::Ask(_)) => Err(question),
        _ => Ok(-turned(rest, "north")?),
    }
}

/// `18 deg clockwise of up`; the angle is clockwise.
fn turned(rest: &str, from: &str) -> Result<Angle, Unread> {
    let mut scan = Scan::new(rest);
    let angle = leading_angle(&mut scan)?.value;
    scan.skip_spaces();
    let sense = scan.take_word(SENSE);
    scan.skip_spaces();
    let says_from = scan.take_word(&[("of", ()), ("from", ())]).is_some();
    scan.skip_spaces();
    let is_from = says_from && scan.take_word(&[(from, ())]).is_some();
    if !scan.is_done() {
        return Err(leftover(&scan));
    }
    match sense {
        Some(sense) if is_from => Ok(angle * -sense),
        _ if angle == Angle::ZERO => Ok(angle),
        _ => {
            let figure = rest[..rest.len() - after_angle(rest)].trim();
            let choices =
                ["clockwise", "counterclockwise"].map(|sense| format!("{figure} {sense} of {from}"));
            Err(ask(format!("Which way is {} turned, and from what?", quoted(rest)), choices))
        }
    }
}

/// How much text stands behind the angle.
fn after_angle(rest: &str) -> usize {
    let mut scan = Scan::new(rest);
    leading_angle(&mut scan).map_or(0, |_| scan.rest.len())
}

fn which_way(words: &str) -> Unread {
    let choices = SHEET.iter().map(|(word, _)| (*word).to_owned());
    let words = quoted(words);
    ask(
        format!(
            "Which way on the sheet does {words} point, or how is it turned, as in 18 deg clockwise of up?"
        ),
        choices,
    )
}

fn leftover(scan: &Scan) -> Unread {
    malformed(format!("{} is left over", quoted(scan.rest)))
}
