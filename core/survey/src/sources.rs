//! Handing out sources of error.

use groundrule_units::Length;

use crate::error::HALF_WIDTH_95;
use crate::layout::{Owner, Reading, SourceOwner};
use crate::{ErrorTerm, ErrorTerms, SourceId};

/// The sources handed out so far, and to whom.
#[derive(Default)]
pub(crate) struct Sources {
    pub(crate) owners: Vec<SourceOwner>,
    next: u32,
}

impl Sources {
    /// So many sources in a row for one reading; the first of them.
    fn take(&mut self, owner: Owner, reading: Reading, plus_minus: Length, count: u32) -> SourceId {
        let first = SourceId(self.next);
        self.next += count;
        self.owners.push(SourceOwner { first, owner, reading, plus_minus: plus_minus.into(), ends: None });
        first
    }

    /// Whose a source is.
    pub(crate) fn owner(&self, source: SourceId) -> Option<&SourceOwner> {
        owner(&self.owners, source)
    }

    /// One source, of whom and what the maker says.
    pub(crate) fn one(&mut self, owner: impl FnOnce(SourceId) -> SourceOwner) -> SourceId {
        let first = SourceId(self.next);
        self.next += 1;
        self.owners.push(owner(first));
        first
    }

    /// The error of a position read on its own.
    pub(crate) fn position(&mut self, owner: Owner, reading: Reading, plus_minus: Length) -> ErrorTerms {
        if plus_minus == Length::ZERO {
            return ErrorTerms::Exact;
        }
        let source = self.take(owner, reading, plus_minus, 2);
        ErrorTerms::Own { source, sigma: sigma(plus_minus) }
    }

    /// One term for each plus-or-minus with its direction, from a fresh source each.
    pub(crate) fn along(
        &mut self,
        owner: Owner,
        reading: Reading,
        directions: &[(Length, (f64, f64))],
    ) -> Vec<ErrorTerm> {
        // The run is as good as the worst of it.
        let worst = directions.iter().map(|(plus_minus, _)| *plus_minus).fold(Length::ZERO, Length::max);
        if worst == Length::ZERO {
            return Vec::new();
        }
        let count = u32::try_from(directions.len()).unwrap_or(u32::MAX);
        let first = self.take(owner, reading, worst, count);
        let ids = (first.0..).map(SourceId);
        let term = |(source, (plus_minus, (x, y))): (SourceId, &(Length, (f64, f64)))| {
            let sigma = sigma(*plus_minus);
            ErrorTerm { source, x: sigma * *x, y: sigma * *y }
        };
        ids.zip(directions).map(term).collect()
    }
}

/// Whose a source is, among owners in order of their first source.
pub(crate) fn owner(owners: &[SourceOwner], source: SourceId) -> Option<&SourceOwner> {
    let after = owners.partition_point(|owner| owner.first <= source);
    owners.get(after.checked_sub(1)?)
}

/// The standard uncertainty of a plus-or-minus that holds 95 times in a hundred.
fn sigma(plus_minus: Length) -> Length {
    plus_minus / HALF_WIDTH_95
}
