//! Amounts that know how well they are known.

use groundrule_units::Quantity;

/// Arithmetic on amounts. It happens on the ground's side, so that errors common to two amounts stay common
/// and no check can make an amount better known than the plan.
pub trait Amounts {
    /// A measured or stated amount.
    type Amount;

    /// The best value of each, for choosing and ordering. What is judged is the amount, not this number.
    fn values(&self, items: &[&Self::Amount]) -> Vec<Quantity>;
    /// For each, true when data it rests on is not there. It may be combined and returned like any other;
    /// the rule then says what is missing.
    fn lacks(&self, items: &[&Self::Amount]) -> Vec<bool>;
    /// First plus second, of each pair; both of one dimension.
    fn add(&self, pairs: &[(&Self::Amount, &Self::Amount)]) -> Vec<Self::Amount>;
    /// First less second, of each pair; both of one dimension.
    fn subtract(&self, pairs: &[(&Self::Amount, &Self::Amount)]) -> Vec<Self::Amount>;
    /// First over second, of each pair of one dimension. Over nothing there is no ratio: none.
    fn ratio(&self, pairs: &[(&Self::Amount, &Self::Amount)]) -> Vec<Option<Self::Amount>>;
    /// Each amount times a plain, finite number.
    fn scale(&self, items: &[(&Self::Amount, f64)]) -> Vec<Self::Amount>;
    /// The sum of them all; none when there are none.
    fn sum(&self, items: &[&Self::Amount]) -> Option<Self::Amount>;
    /// The least of them; none when there are none.
    fn least(&self, items: &[&Self::Amount]) -> Option<Self::Amount>;
    /// The greatest of them; none when there are none.
    fn greatest(&self, items: &[&Self::Amount]) -> Option<Self::Amount>;
}
