//! What is counted by time: flows, speeds and rates of rain, and times themselves.

use super::area::compact;
use super::marks::read_marked;
use super::number::take_number;
use super::scan::Scan;
use super::{Kind, Unread, Written, malformed, quoted};
use crate::quantity::INCH;
use crate::{Flow, Speed, Time};

const FLOW: Kind = Kind { noun: "a flow", like: "for example 0.5 cfs, 92.5 gpm or 14 L/s" };
const SPEED: Kind = Kind { noun: "a speed or a rate of rain", like: "for example 4 ft/s, 4 in/h or 25 mm/h" };
const TIME: Kind = Kind { noun: "a time", like: "for example 48 h, 10 min or 2 days" };

/// Reads a flow; it must name its unit. A gallon is the US gallon, 231 cubic inches.
///
/// ```
/// use groundrule_units::read_flow;
/// assert_eq!(read_flow("14 L/s")?.value.cubic_metres_per_second(), 0.014);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_flow(text: &str) -> Result<Written<Flow>, Unread> {
    read_marked(text, &FLOW, |core| counted(core, "flow", flow_unit))
}

/// Reads a speed of water, or a rate at which rain falls or soil takes it in; it must name its unit.
///
/// ```
/// use groundrule_units::read_speed;
/// assert_eq!(read_speed("4 in/h")?.value.inches_per_hour(), 4.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_speed(text: &str) -> Result<Written<Speed>, Unread> {
    read_marked(text, &SPEED, |core| counted(core, "speed", speed_unit))
}

/// Reads a time; it must name its unit.
///
/// ```
/// use groundrule_units::read_time;
/// assert_eq!(read_time("2 days")?.value.hours(), 48.0);
/// # Ok::<(), groundrule_units::Unread>(())
/// ```
pub fn read_time(text: &str) -> Result<Written<Time>, Unread> {
    read_marked(text, &TIME, |core| counted(core, "time", time_unit))
}

fn counted<T>(core: &str, noun: &str, unit: impl Fn(&str) -> Option<fn(f64) -> T>) -> Result<T, Unread> {
    let mut scan = Scan::new(core);
    let sign = scan.take_sign();
    let Some(number) = take_number(&mut scan)? else {
        return Err(malformed("it does not start with a number"));
    };
    scan.skip_spaces();
    match unit(scan.rest) {
        Some(of) => Ok(of(sign * number.value)),
        None if scan.is_done() => Err(malformed(format!("it names no unit of {noun}"))),
        None => Err(malformed(format!("{} is not a unit of {noun}", quoted(scan.rest)))),
    }
}

/// So many of the unit of flow that the whole of this text names.
pub(super) fn flow_unit(text: &str) -> Option<fn(f64) -> Flow> {
    const GALLON: f64 = 231.0 * INCH * INCH * INCH;
    Some(match one_stroke(text).as_str() {
        "cfs" | "cuft/s" | "ft3/s" | "cf/s" => Flow::from_cubic_feet_per_second,
        "gpm" | "gal/min" | "gals/min" | "gallons/min" | "gallon/min" => {
            |count| Flow::from_cubic_metres_per_second(count * GALLON / 60.0)
        }
        "m3/s" | "cum/s" | "cumecs" => Flow::from_cubic_metres_per_second,
        "m3/h" => |count| Flow::from_cubic_metres_per_second(count / 3600.0),
        "l/s" => |count| Flow::from_cubic_metres_per_second(count / 1000.0),
        "l/min" => |count| Flow::from_cubic_metres_per_second(count / 60_000.0),
        _ => return None,
    })
}

/// So many of the unit of speed that the whole of this text names.
pub(super) fn speed_unit(text: &str) -> Option<fn(f64) -> Speed> {
    Some(match one_stroke(text).as_str() {
        "fps" | "ft/s" | "feet/s" | "foot/s" => Speed::from_feet_per_second,
        "ft/min" | "fpm" => |count| Speed::from_feet_per_second(count / 60.0),
        "m/s" | "metres/s" | "meters/s" => Speed::from_metres_per_second,
        "in/h" | "iph" | "inches/h" | "inch/h" => Speed::from_inches_per_hour,
        "in/day" => |count| Speed::from_inches_per_hour(count / 24.0),
        "mm/h" => Speed::from_millimetres_per_hour,
        "mm/day" => |count| Speed::from_millimetres_per_hour(count / 24.0),
        "cm/h" => |count| Speed::from_millimetres_per_hour(count * 10.0),
        _ => return None,
    })
}

/// So many of the unit of time that the whole of this text names.
pub(super) fn time_unit(text: &str) -> Option<fn(f64) -> Time> {
    Some(match compact(text).as_str() {
        "s" | "sec" | "secs" | "second" | "seconds" => Time::from_seconds,
        "min" | "mins" | "minute" | "minutes" => Time::from_minutes,
        "h" | "hr" | "hrs" | "hour" | "hours" => Time::from_hours,
        "day" | "days" => |count| Time::from_hours(count * 24.0),
        _ => return None,
    })
}

/// A unit over a time in one spelling: `in/hr`, `in per hour` and `inches/hour` end in `/h`.
fn one_stroke(text: &str) -> String {
    let unit = text.replace(" per ", "/").replace(" a ", "/").replace(" an ", "/");
    let unit = compact(&unit);
    let Some((over, time)) = unit.split_once('/') else { return unit };
    let time = match time {
        "sec" | "second" => "s",
        "minute" => "min",
        "hr" | "hour" => "h",
        "d" => "day",
        other => other,
    };
    format!("{over}/{time}")
}
