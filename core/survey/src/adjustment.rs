//! What an adjustment says of its readings, for whoever wants to see them one by one.

use groundrule_plan::{Name, Plan};
use groundrule_units::{Quantity, Ratio};

use crate::layout::of_survey;
use crate::{Owner, Reading};

/// Readings that were adjusted together.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Adjustment {
    /// Each reading that is not exact, in the order of the plan.
    pub readings: Vec<AdjustedReading>,
    /// How many readings there are beyond those needed.
    pub beyond_needed: u32,
    /// How far off they are together, as a share of what their accuracy says; none where nothing is beyond need.
    pub together: Option<Together>,
}

/// All readings of an adjustment against their accuracy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Together {
    /// The standard deviation of unit weight: 1 when readings are as good as said.
    pub off: Ratio,
    /// The least that is usual, 95 times in a hundred.
    pub low: Ratio,
    /// The most that is usual.
    pub high: Ratio,
}

/// One reading after adjustment.
#[derive(Clone, Debug, PartialEq)]
pub struct AdjustedReading {
    /// Whose it is.
    pub owner: Owner,
    /// Which figure of it.
    pub reading: Reading,
    /// From where to where, by full names.
    pub ends: Option<(Name, Name)>,
    /// As read.
    pub read: Quantity,
    /// Adjusted less read.
    pub residual: Quantity,
    /// The share of an error in it that the other readings would show; zero where nothing checks it.
    pub checked: Ratio,
    /// The residual over its own standard deviation; none where nothing checks it.
    pub standardised: Option<Ratio>,
}

impl AdjustedReading {
    /// What was read, in words: `house.sw to house.se in chain-sw-se`.
    pub fn describe(&self, plan: &Plan) -> String {
        of_survey(plan, self.owner, self.reading, self.ends.as_ref()).unwrap_or_default()
    }
}
