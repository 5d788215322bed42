//! An adjustment as a list of its readings.

use groundrule_units::{Quantity, Ratio};

use crate::adjust::{Adjusted, ObservationId};
use crate::layout::SourceOwner;
use crate::{AdjustedReading, Adjustment, Together};

/// The level of the bounds of what is usual: common practice in adjustment.
const USUAL: f64 = 0.95;

/// One reading with the observation it became and what was read.
pub(crate) type Read<'a> = (&'a SourceOwner, ObservationId, Quantity);

/// What an adjustment says of its readings.
pub(crate) fn of<'a>(adjusted: &Adjusted, readings: impl Iterator<Item = Read<'a>>) -> Adjustment {
    let reading = |(source, id, read): Read<'a>| AdjustedReading {
        owner: source.owner,
        reading: source.reading,
        ends: source.ends.as_deref().cloned(),
        read,
        residual: adjusted.residual(id),
        checked: Ratio::from_fraction(adjusted.redundancy(id)),
        standardised: adjusted.standardised(id).map(Ratio::from_fraction),
    };
    let freedom = f64::from(adjusted.degrees_of_freedom());
    let together = || {
        let bounds = adjusted.chi_square(USUAL)?;
        let root = |sum: f64| Ratio::from_fraction(libm::sqrt(sum / freedom));
        Some(Together {
            off: Ratio::from_fraction(adjusted.s0()?),
            low: root(bounds.low),
            high: root(bounds.high),
        })
    };
    Adjustment {
        readings: readings.map(reading).collect(),
        beyond_needed: adjusted.degrees_of_freedom(),
        together: together(),
    }
}
