//! Bearings by quadrant, and azimuths.

use super::angle::packed_question;
use super::degrees::{Degrees, take_degrees};
use super::marks::read_marked;
use super::scan::Scan;
use super::{Kind, Unread, Written, malformed, quoted};
use crate::{Angle, Bearing};

const KIND: Kind =
    Kind { noun: "a bearing", like: "for example N 4°30'00\" E, S 85-30 W, 184°30' or due north" };

/// Reads a bearing by quadrant (`N 4°30'00" E`, `N4-30E`, `N04.30.00E`, `N 4.5 E`), a cardinal direction
/// (`due north`), or an azimuth clockwise from north (`184°30'`).
///
/// # Errors
/// [`Unread::Ask`] for `N 4.30 E`, which may be degrees and minutes.
///
/// ```
/// use groundrule_units::read_bearing;
/// assert_eq!(read_bearing("N4-30E")?.value.azimuth().degrees(), 4.5);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_bearing(text: &str) -> Result<Written<Bearing>, Unread> {
    read_marked(text, &KIND, bearing)
}

/// Clockwise degrees from north of the end a quadrant bearing starts from.
const ENDS: &[(&str, f64)] = &[("n", 0.0), ("north", 0.0), ("s", 180.0), ("south", 180.0)];
/// 1 for east, -1 for west.
const SIDES: &[(&str, f64)] = &[("e", 1.0), ("east", 1.0), ("w", -1.0), ("west", -1.0)];

pub(super) fn bearing(core: &str) -> Result<Bearing, Unread> {
    let mut scan = Scan::new(core);
    scan.take_word(&[("due", ())]);
    scan.skip_spaces();
    let Some((end, is_end)) = take_direction(&mut scan) else { return azimuth(scan) };
    scan.skip_spaces();
    if scan.is_done() {
        return Ok(from_degrees(end));
    }
    if !is_end {
        return Err(malformed("a bearing by quadrant starts from north or south"));
    }
    let degrees = degrees_at(&mut scan)?;
    scan.skip_spaces();
    let Some(side) = scan.take_word(SIDES) else {
        return Err(malformed("the angle must be followed by E or W"));
    };
    scan.skip_spaces();
    if !scan.is_done() {
        return Err(malformed(format!("{} is left over", quoted(scan.rest))));
    }
    if degrees > 90.0 {
        return Err(malformed("a bearing by quadrant is at most 90 degrees"));
    }
    // From south the sides change hands: S 10° E is 180 - 10.
    let turn = if end == 0.0 { side } else { -side };
    Ok(from_degrees(end + turn * degrees))
}

/// The first direction word: its azimuth, and whether a quadrant bearing may start with it.
fn take_direction(scan: &mut Scan) -> Option<(f64, bool)> {
    if let Some(end) = scan.take_word(ENDS) {
        return Some((end, true));
    }
    scan.take_word(SIDES).map(|side| (90.0 * side, false))
}

fn azimuth(mut scan: Scan) -> Result<Bearing, Unread> {
    let degrees = degrees_at(&mut scan)?;
    scan.skip_spaces();
    if !scan.is_done() {
        return Err(malformed(format!("{} is left over", quoted(scan.rest))));
    }
    if degrees > 360.0 {
        return Err(malformed("an azimuth is at most 360 degrees"));
    }
    Ok(from_degrees(degrees))
}

fn degrees_at(scan: &mut Scan) -> Result<f64, Unread> {
    let before = *scan;
    match take_degrees(scan)? {
        Some(Degrees::Sure(degrees)) => Ok(degrees.value),
        Some(Degrees::Packed { decimal, sexagesimal, .. }) => {
            Err(packed_question(&before, scan, [sexagesimal, decimal]))
        }
        None => Err(malformed(format!("there is no angle at {}", quoted(before.rest)))),
    }
}

fn from_degrees(degrees: f64) -> Bearing {
    Bearing::from_azimuth(Angle::from_degrees(degrees))
}
