//! Formulas in the Common Expression Language, with dimensions checked before any plan is seen.

use groundrule_site::{Fact, Measured};

/// Where a formula finds its names: `subject.height`, `lot.area`, `site.latitude`, `reading.side`.
pub trait Facts {
    /// The fact of this dotted name, if it is known.
    fn fact(&self, name: &str) -> Option<Fact>;
}

/// A formula that was parsed and whose dimensions agree.
#[derive(Clone, Debug)]
pub struct Formula {
    text: String,
}

/// Why a formula gave no answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FormulaError {
    /// A name it needs is not known of this subject.
    Missing(String),
    /// It failed while running, or gave something of the wrong sort.
    Failed(String),
}

impl Formula {
    /// The formula as written.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The amount it gives; its error follows from the measured names it uses.
    pub fn amount(&self, facts: &dyn Facts) -> Result<Measured, FormulaError> {
        let _ = facts;
        todo!()
    }

    /// The truth it gives.
    pub fn holds(&self, facts: &dyn Facts) -> Result<bool, FormulaError> {
        let _ = facts;
        todo!()
    }
}
