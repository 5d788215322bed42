//! Formulas in the Common Expression Language, with dimensions checked before any plan is seen.
//!
//! A formula is read once, with its pack: its names must be known, its dimensions must agree, and it may
//! not loop. What is kept is a tree over plain numbers in SI units, so that asking it of a plan can only
//! fail for want of a fact. Source of the language: the Common Expression Language specification,
//! <https://github.com/google/cel-spec>; only the parts a limit needs are read (see the format page).

mod check;
mod functions;
mod names;
mod run;
mod sort;
#[cfg(test)]
mod tests;

use std::collections::BTreeMap;
use std::ops::Range;

use cel::IdedExpr;
use groundrule_site::{Fact, Measured};
use groundrule_units::Dimension;

pub(crate) use functions::{FUNCTIONS, MAX_TEXT, UNITS};
pub(crate) use names::{FIXED, Scope};
pub(crate) use sort::Sort;

/// Where a formula finds its names: `subject.height`, `lot.area`, `site.latitude`, `reading.side`.
pub trait Facts {
    /// The fact of this dotted name, if it is known.
    fn fact(&self, name: &str) -> Option<Fact>;
}

/// A formula that was parsed and whose dimensions agree.
#[derive(Clone, Debug)]
pub struct Formula {
    text: String,
    tree: IdedExpr,
    sort: Sort,
    names: BTreeMap<String, Sort>,
}

/// Why a formula gave no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormulaError {
    /// A name it needs is not known of this subject.
    Missing(String),
    /// It failed while running, or gave something of the wrong sort.
    Failed(String),
}

/// One thing wrong with a formula, with the bytes of its text that are concerned.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Wrong {
    pub(crate) at: Range<usize>,
    pub(crate) message: String,
    pub(crate) help: Option<String>,
}

impl Formula {
    /// Reads a formula, or says everything that is wrong with it.
    pub(crate) fn read(text: &str, scope: &Scope<'_>) -> Result<Self, Vec<Wrong>> {
        let checked = check::check(text, scope)?;
        Ok(Self { text: text.to_owned(), tree: checked.tree, sort: checked.sort, names: checked.names })
    }

    /// What it gives.
    pub(crate) fn sort(&self) -> Sort {
        self.sort
    }

    /// The formula as written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The dimension of the amount it gives; none when it gives a truth.
    pub fn dimension(&self) -> Option<Dimension> {
        self.sort.dimension()
    }

    /// The dotted names it may ask for, in name order.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.names.keys().map(String::as_str)
    }

    /// The amount it gives; its error follows from the measured names it uses.
    pub fn amount(&self, facts: &dyn Facts) -> Result<Measured, FormulaError> {
        let Some(dimension) = self.sort.dimension() else {
            return Err(FormulaError::Failed(format!("`{}` gives a yes or no, not an amount", self.text)));
        };
        run::amount(&self.tree, &run::gather(&self.names, facts)?, dimension)
    }

    /// The truth it gives, at the best value of every measured name.
    pub fn holds(&self, facts: &dyn Facts) -> Result<bool, FormulaError> {
        run::truth(&self.tree, &run::gather(&self.names, facts)?)
    }

    /// True when the answer of [`Formula::holds`] stays the same while each measured name moves by its
    /// 95 % half width either way; false when the condition is too close to call.
    pub fn settled(&self, facts: &dyn Facts) -> Result<bool, FormulaError> {
        run::settled(&self.tree, &run::gather(&self.names, facts)?)
    }

    /// How far each measured name can move at least, either way, without changing the answer of [`Formula::holds`],
    /// in its SI unit; a name that never changes it is left out. To within a factor of two, and never too far.
    pub fn leeway(&self, facts: &dyn Facts) -> Result<Vec<(String, f64)>, FormulaError> {
        run::leeway(&self.tree, &run::gather(&self.names, facts)?)
    }
}

/// A length without what its conversion from feet or inches rounded off, so that a gap of ten feet, worked out from
/// two places, is not less than `feet(10)`. It moves nothing by as much as a thousandth of a micrometre.
fn snapped(si: f64) -> f64 {
    /// Steps to a metre, and where a double has no digits left for them.
    const STEPS: f64 = 1e10;
    const WIDEST: f64 = 1e5;
    if si.abs() < WIDEST { (si * STEPS).round() / STEPS } else { si }
}
