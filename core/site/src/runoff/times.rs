//! How fast water arrives.

use groundrule_hydrology::concentration;
use groundrule_units::{Dimension, Length, Ratio, Speed, Time};

use crate::Measured;

/// The time of a sheet, by its length, its slope and the two-year rain of a day.
pub fn sheet_time(length: &Measured, slope: &Measured, rain: &Measured, roughness: f64) -> Option<Measured> {
    Measured::through(&[length, slope, rain], Dimension::Time, |at| match at {
        [length, slope, rain] => {
            let (length, rain) = (Length::from_metres(*length), Length::from_metres(*rain));
            concentration::sheet(length, Ratio::from_fraction(*slope), rain, roughness).map(Time::seconds)
        }
        _ => None,
    })
}

/// The speed of shallow water that has gathered.
pub fn shallow_speed(slope: &Measured, paved: bool) -> Option<Measured> {
    Measured::through(&[slope], Dimension::Speed, |at| {
        let slope = Ratio::from_fraction(*at.first()?);
        concentration::shallow_speed(slope, paved).map(Speed::metres_per_second)
    })
}

/// The whole time by Kirpich.
pub fn kirpich_time(length: &Measured, slope: &Measured) -> Option<Measured> {
    Measured::through(&[length, slope], Dimension::Time, |at| match at {
        [length, slope] => {
            let (length, slope) = (Length::from_metres(*length), Ratio::from_fraction(*slope));
            concentration::kirpich(length, slope).map(Time::seconds)
        }
        _ => None,
    })
}
