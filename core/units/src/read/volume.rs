//! Volumes: cubic yards, cubic feet, cubic metres, gallons, litres.

use super::area::compact;
use super::marks::read_marked;
use super::number::take_number;
use super::scan::Scan;
use super::{Kind, Unread, Written, malformed, quoted};
use crate::Volume;
use crate::quantity::{FOOT, INCH};

const KIND: Kind = Kind { noun: "a volume", like: "for example 5 cu yd, 40 cu ft, 3.8 m3 or 500 gal" };

/// Reads a volume; it must name its unit. A gallon is the US gallon, 231 cubic inches.
///
/// ```
/// use groundrule_units::read_volume;
/// assert_eq!(read_volume("2 m³")?.value.cubic_metres(), 2.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_volume(text: &str) -> Result<Written<Volume>, Unread> {
    read_marked(text, &KIND, |core| {
        let mut scan = Scan::new(core);
        let Some(number) = take_number(&mut scan)? else {
            return Err(malformed("it does not start with a number"));
        };
        scan.skip_spaces();
        match unit_of(scan.rest) {
            Some(one) => Ok(one * number.value),
            None if scan.is_done() => Err(malformed("it names no unit of volume")),
            None => Err(malformed(format!("{} is not a unit of volume", quoted(scan.rest)))),
        }
    })
}

/// One of the unit of volume that the whole of this text names.
pub(super) fn unit_of(text: &str) -> Option<Volume> {
    const CUBIC_FOOT: f64 = FOOT * FOOT * FOOT;
    Some(Volume::from_cubic_metres(match compact(text).as_str() {
        "cuyd" | "cuyds" | "cy" | "yd3" | "cuyard" | "cuyards" => 27.0 * CUBIC_FOOT,
        "cuft" | "cf" | "ft3" | "cufoot" | "cufeet" => CUBIC_FOOT,
        "m3" | "cum" | "cumetre" | "cumetres" | "cumeter" | "cumeters" => 1.0,
        "gal" | "gals" | "gallon" | "gallons" => 231.0 * INCH * INCH * INCH,
        "l" | "litre" | "litres" | "liter" | "liters" => 0.001,
        _ => return None,
    }))
}
