//! Latitude and longitude.

use super::degrees::{Degrees, take_degrees};
use super::marks::read_marked;
use super::scan::Scan;
use super::{Kind, Unread, Written, malformed, quoted};
use crate::Angle;

/// A hemisphere's words: 1 where the angle counts up.
type Hemispheres = [(&'static str, f64); 4];

const NORTH_SOUTH: Hemispheres = [("n", 1.0), ("north", 1.0), ("s", -1.0), ("south", -1.0)];
const EAST_WEST: Hemispheres = [("e", 1.0), ("east", 1.0), ("w", -1.0), ("west", -1.0)];

/// Reads a latitude, positive north: `45.3`, `45.3 N`, `45°18'00" S`. A bare number is decimal degrees.
///
/// ```
/// use groundrule_units::read_latitude;
/// assert_eq!(read_latitude("45°30' S")?.value.degrees(), -45.5);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_latitude(text: &str) -> Result<Written<Angle>, Unread> {
    const KIND: Kind = Kind { noun: "a latitude", like: "for example 45.3, 45.3 N or 45°18'00\" N" };
    read_marked(text, &KIND, |core| geographic(core, &NORTH_SOUTH, 90.0))
}

/// Reads a longitude, positive east: `-122.68`, `122.68 W`, `122°40'48" W`. A bare number is decimal degrees.
pub fn read_longitude(text: &str) -> Result<Written<Angle>, Unread> {
    const KIND: Kind = Kind { noun: "a longitude", like: "for example -122.68, 122.68 W or 122°40'48\" W" };
    read_marked(text, &KIND, |core| geographic(core, &EAST_WEST, 180.0))
}

fn geographic(core: &str, hemispheres: &Hemispheres, most: f64) -> Result<Angle, Unread> {
    let mut scan = Scan::new(core);
    let before = scan.take_word(hemispheres);
    scan.skip_spaces();
    let is_signed = scan.rest.starts_with(['+', '-']);
    let sign = scan.take_sign();
    let degrees = match take_degrees(&mut scan)? {
        // Decimals are the rule here, so that packed minutes are not a second common meaning.
        Some(Degrees::Sure(degrees) | Degrees::Packed { degrees, .. }) => degrees.value,
        None => return Err(malformed("it does not start with a number")),
    };
    scan.skip_spaces();
    let behind = scan.take_word(hemispheres);
    if !scan.is_done() {
        return Err(malformed(format!("{} is left over", quoted(scan.rest))));
    }
    let hemisphere = match (before, behind) {
        (Some(_), Some(_)) => return Err(malformed("it carries two signs")),
        (Some(_), None) | (None, Some(_)) if is_signed => return Err(malformed("it carries two signs")),
        (before, behind) => before.or(behind).unwrap_or(sign),
    };
    if degrees > most {
        return Err(malformed(format!("it is at most {most} degrees")));
    }
    Ok(Angle::from_degrees(degrees * hemisphere))
}
