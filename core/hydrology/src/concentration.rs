//! How long water takes from the farthest place to where it leaves: TR-55, 2nd edition 1986, chapter 3.

use groundrule_units::{Length, Ratio, Speed, Time};

use crate::{positive, sensible};

/// The shortest time the method works with.
pub const LEAST: Time = Time::from_hours(0.1);

/// How far water runs as a sheet at most, by TR-55 of 1986.
pub const SHEET_1986: Length = Length::from_feet(300.0);

/// How far by later practice of the NRCS; from memory.
pub const SHEET_LATER: Length = Length::from_feet(100.0);

/// The time of a sheet: `0.007 (n L)^0.8 / (P2^0.5 s^0.4)` hours, with feet and the inches of the two-year rain of a day.
/// For no more than 300 ft.
pub fn sheet(length: Length, slope: Ratio, two_year_rain: Length, roughness: f64) -> Option<Time> {
    let (length, slope) = (positive(length.feet())?, positive(slope.fraction())?);
    let (rain, roughness) = (positive(two_year_rain.inches())?, positive(roughness)?);
    if length > SHEET_1986.feet() * (1.0 + 1e-9) {
        return None;
    }
    let top = 0.007 * libm::pow(roughness * length, 0.8);
    Some(Time::from_hours(sensible(top / (libm::sqrt(rain) * libm::pow(slope, 0.4)))?))
}

/// Speed of shallow water that has gathered: 16.1345 (unpaved) or 20.3282 (paved) times the root of the slope, in feet a
/// second. The two figures of TR-55 figure 3-1 are from memory; they give its printed example.
pub fn shallow_speed(slope: Ratio, paved: bool) -> Option<Speed> {
    let factor = if paved { 20.3282 } else { 16.1345 };
    Some(Speed::from_feet_per_second(factor * libm::sqrt(positive(slope.fraction())?)))
}

/// How long a way takes at a speed.
pub fn travel(length: Length, speed: Speed) -> Option<Time> {
    Some(Time::from_seconds(sensible(length.metres())? / positive(speed.metres_per_second())?))
}

/// The whole time by Kirpich: `0.0078 L^0.77 S^-0.385` minutes, with feet. For small farmland with a steep channel.
pub fn kirpich(length: Length, slope: Ratio) -> Option<Time> {
    let (length, slope) = (positive(length.feet())?, positive(slope.fraction())?);
    Some(Time::from_minutes(0.0078 * libm::pow(length, 0.77) * libm::pow(slope, -0.385)))
}
