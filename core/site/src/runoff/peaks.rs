//! Peak flows.

use groundrule_hydrology::graphical::{self, Storm};
use groundrule_hydrology::rational::{self, Form};
use groundrule_units::{Area, Dimension, Flow, Length, Ratio, Speed, Time};

use crate::Measured;

/// The peak by the rational method.
pub fn rational_peak(
    area: &Measured,
    coefficient: &Measured,
    rain: &Measured,
    form: Form,
) -> Option<Measured> {
    Measured::through(&[area, coefficient, rain], Dimension::Flow, |at| match at {
        [area, coefficient, rain] => {
            let (area, rain) = (Area::from_square_metres(*area), Speed::from_metres_per_second(*rain));
            rational::peak(area, *coefficient, rain, form).map(Flow::cubic_metres_per_second)
        }
        _ => None,
    })
}

/// The graphical peak of TR-55: of an area, its curve number, the rain of a day and how long its water takes.
pub fn graphical_peak(
    [area, number, rain, time]: [&Measured; 4],
    storm: Storm,
    ponds: Ratio,
) -> Option<Measured> {
    Measured::through(&[area, number, rain, time], Dimension::Flow, |at| match at {
        [area, number, rain, time] => {
            let (area, rain) = (Area::from_square_metres(*area), Length::from_metres(*rain));
            let time = Time::from_seconds(*time);
            graphical::peak(area, *number, rain, time, storm, ponds).map(Flow::cubic_metres_per_second)
        }
        _ => None,
    })
}
