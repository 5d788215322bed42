//! What the running check is asked.

use crate::{Amounts, Feature, Value};

/// The question: a row's subjects, groups and parameters. Never its limit.
pub trait Asked: Amounts {
    /// The features the rule is about. Each must be answered for.
    fn subjects(&self) -> Vec<Feature>;
    /// The features of a named group that the rule measures to; empty when the row names none.
    fn group(&self, name: &str) -> Vec<Feature>;
    /// A parameter that the row sets. [`crate::Choice`] and [`crate::LengthParameter`] read it with its errors.
    fn parameter(&self, name: &str) -> Option<Value>;
    /// The same as an exact amount, to combine with measured ones.
    fn parameter_amount(&self, name: &str) -> Option<Self::Amount>;
}
