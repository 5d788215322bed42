//! What the ground sheds: composite figures, depths and volumes of runoff.

use groundrule_hydrology::{curve_number, rational, storage};
use groundrule_units::{Area, Dimension, Length, Ratio, Volume};

use crate::Measured;

/// The mean of a figure of several surfaces, each weighted by its area, as a ratio.
pub fn composite(parts: &[(&Measured, f64)]) -> Option<Measured> {
    let areas: Vec<&Measured> = parts.iter().map(|(area, _)| *area).collect();
    Measured::through(&areas, Dimension::Ratio, |at| {
        let parts: Vec<(Area, f64)> = at
            .iter()
            .zip(parts)
            .map(|(area, (_, figure))| (Area::from_square_metres(*area), *figure))
            .collect();
        rational::composite(&parts)
    })
}

/// A curve number to the nearest whole one, which is then exact.
pub fn rounded(curve_number: &Measured) -> Measured {
    if !curve_number.needs.is_empty() {
        return curve_number.clone();
    }
    let whole = curve_number::rounded(curve_number.value().si());
    Measured::exact(Ratio::from_fraction(whole)).marked(curve_number.marks.clone())
}

/// The curve number of ground with a hard share, some of which may not be connected.
pub fn with_hard_ground(
    pervious: &Measured,
    hard: &Measured,
    unconnected: Option<&Measured>,
) -> Option<Measured> {
    let mut inputs = vec![pervious, hard];
    inputs.extend(unconnected);
    Measured::through(&inputs, Dimension::Ratio, |at| match at {
        [pervious, hard] => curve_number::with_hard_ground(*pervious, *hard, 0.0),
        [pervious, hard, unconnected] => curve_number::with_hard_ground(*pervious, *hard, *unconnected),
        _ => None,
    })
}

/// The depth that runs off.
pub fn runoff_depth(rain: &Measured, number: &Measured) -> Option<Measured> {
    Measured::through(&[rain, number], Dimension::Length, |at| match at {
        [rain, number] => curve_number::runoff(Length::from_metres(*rain), *number).map(Length::metres),
        _ => None,
    })
}

/// The water to be treated.
pub fn quality_volume(area: &Measured, rain: &Measured, hard: &Measured) -> Option<Measured> {
    Measured::through(&[area, rain, hard], Dimension::Volume, |at| match at {
        [area, rain, hard] => {
            let (area, rain) = (Area::from_square_metres(*area), Length::from_metres(*rain));
            storage::quality_volume(area, rain, Ratio::from_fraction(*hard)).map(Volume::cubic_metres)
        }
        _ => None,
    })
}
