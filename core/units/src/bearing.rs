//! Directions over the ground.

use std::fmt;

use crate::Angle;

const SECONDS_PER_CIRCLE: f64 = 1_296_000.0;

/// A direction over the ground, kept as an azimuth: clockwise from north, at least 0 and under 360 degrees.
///
/// Shown as a quadrant bearing to the second, as deeds write it.
///
/// ```
/// use groundrule_units::{Angle, Bearing};
/// let bearing = Bearing::from_azimuth(Angle::from_degrees(184.5));
/// assert_eq!(bearing.to_string(), "S 4°30'00\" W");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Bearing(Angle);

impl Bearing {
    /// From an azimuth clockwise from north; whole turns are taken off.
    pub fn from_azimuth(azimuth: Angle) -> Self {
        let circle = 2.0 * std::f64::consts::PI;
        let turned = azimuth.radians().rem_euclid(circle);
        // A tiny negative angle rounds to a whole circle, which is north again.
        Self(Angle::from_radians(if turned >= circle { 0.0 } else { turned }))
    }

    /// The azimuth, clockwise from north.
    pub const fn azimuth(self) -> Angle {
        self.0
    }

    /// The way back.
    pub fn reversed(self) -> Self {
        Self::from_azimuth(self.0 + Angle::from_radians(std::f64::consts::PI))
    }
}

impl fmt::Display for Bearing {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Whole seconds first, so that a carry may change the quadrant.
        let seconds = (self.0.degrees() * 3600.0).round() % SECONDS_PER_CIRCLE;
        let quarter = SECONDS_PER_CIRCLE / 4.0;
        let (from, off, toward) = if seconds <= quarter {
            ('N', seconds, 'E')
        } else if seconds < 2.0 * quarter {
            ('S', 2.0 * quarter - seconds, 'E')
        } else if seconds <= 3.0 * quarter {
            ('S', seconds - 2.0 * quarter, 'W')
        } else {
            ('N', 4.0 * quarter - seconds, 'W')
        };
        let degrees = (off / 3600.0).floor();
        let minutes = ((off - degrees * 3600.0) / 60.0).floor();
        let rest = off - degrees * 3600.0 - minutes * 60.0;
        write!(f, "{from} {degrees:.0}°{minutes:02.0}'{rest:02.0}\" {toward}")
    }
}
