//! Handing out sources of error.

use groundrule_plan::{Accuracy, Plan};
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

    /// One term for each direction, from a fresh source each.
    pub(crate) fn along(
        &mut self,
        owner: Owner,
        reading: Reading,
        plus_minus: Length,
        directions: &[(f64, f64)],
    ) -> Vec<ErrorTerm> {
        if plus_minus == Length::ZERO || directions.is_empty() {
            return Vec::new();
        }
        let count = u32::try_from(directions.len()).unwrap_or(u32::MAX);
        let first = self.take(owner, reading, plus_minus, count);
        let sigma = sigma(plus_minus);
        let ids = (first.0..).map(SourceId);
        ids.zip(directions)
            .map(|(source, (x, y))| ErrorTerm { source, x: sigma * *x, y: sigma * *y })
            .collect()
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

/// The plus-or-minus of a thing: its own, else the plan's; proposed work is set out by design, exactly.
pub(crate) fn plus_minus(plan: &Plan, by: Option<&Accuracy>, proposed: bool) -> Length {
    match by {
        Some(accuracy) => of(plan, accuracy),
        None if proposed => Length::ZERO,
        None => plan.site.by.as_ref().map_or(Length::ZERO, |accuracy| of(plan, accuracy)),
    }
}

fn of(plan: &Plan, accuracy: &Accuracy) -> Length {
    match accuracy {
        Accuracy::Own(own) => own.plus_minus.value.abs(),
        // The plan's reader has already refused classes that are not there.
        Accuracy::Class(name) => {
            plan.accuracy.get(&name.value).map_or(Length::ZERO, |class| class.plus_minus.value.abs())
        }
    }
}
