//! What a check is, and what a module is made of.

use groundrule_units::Dimension;

use crate::{Ground, Reading, Refusal};

/// What a check says of itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Info {
    /// Its name, in small letters with hyphens: `lot-line-distance`. Rows say `module/name`.
    pub name: &'static str,
    /// What it measures, in one sentence.
    pub summary: &'static str,
    /// What its amounts are; none for a check that answers with counts or truths.
    pub dimension: Option<Dimension>,
    /// The parameters it reads.
    pub parameters: &'static [ParameterInfo],
    /// The groups of features it measures to.
    pub groups: &'static [&'static str],
}

/// A parameter, as a check says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ParameterInfo {
    /// Its name, in small letters with underscores.
    pub name: &'static str,
    /// What it does, and what happens without it, in one sentence.
    pub summary: &'static str,
}

/// One check: it measures its subjects, and never sees a limit.
pub trait Check {
    /// What it says of itself.
    const INFO: Info;

    /// Measures every subject. A subject left without a reading is a failure of the module; what cannot be
    /// measured is answered [`crate::Answer::Lacking`] or [`crate::Answer::NotApplicable`].
    ///
    /// # Errors
    /// Only where the row asks for something the check cannot do.
    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal>;
}

/// A module: what [`crate::module!`] makes of a list of checks.
pub trait Module {
    /// The version of the module's crate.
    const VERSION: &'static str;

    /// Its checks, in the order they are registered.
    fn checks() -> &'static [Info];

    /// Runs one check by its name.
    ///
    /// # Errors
    /// What the check refuses, and a name that no check has.
    fn run<G: Ground>(check: &str, ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal>;
}

/// What to say when a module has no check of that name.
pub fn no_such_check(asked: &str, checks: &[Info]) -> Refusal {
    let names: Vec<&str> = checks.iter().map(|info| info.name).collect();
    Refusal::new(format!("there is no check `{asked}` in this module; it has {}", names.join(", ")))
}
