//! What was measured against what a record says.

use groundrule_units::Length;

use super::{Bounds, Figure, Verdict};

/// How far a measurement agrees with a record.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Agreement {
    /// Measured less recorded.
    pub difference: Length,
    /// What the difference may be: the two half widths together.
    pub bounds: Bounds,
    /// The judgement.
    pub verdict: Verdict,
}

/// Compares a measured length with a recorded one.
pub fn agree(measured: &Figure, record: &Figure) -> Agreement {
    let difference = measured.written.value - record.written.value;
    let bounds = Bounds::of([measured.half_width, record.half_width]);
    Agreement { difference, bounds, verdict: bounds.judge(difference) }
}
