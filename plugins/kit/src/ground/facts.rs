//! What the plan says of its features.

use crate::{Amounts, Feature, Place, Shape, Value};

/// Stated facts, kinds, lots and shapes.
pub trait Facts: Amounts {
    /// What to call each feature in a sentence.
    fn labels(&self, features: &[Feature]) -> Vec<String>;
    /// Whether each feature is of this kind or of a kind below it.
    fn is_a(&self, features: &[Feature], kind: &str) -> Vec<bool>;
    /// How each feature is drawn.
    fn shapes(&self, features: &[Feature]) -> Vec<Shape>;
    /// The lot that each feature stands on or bounds.
    fn lot_of(&self, features: &[Feature]) -> Vec<Option<Feature>>;
    /// A stated fact of each feature: its `kind` or `status`, a lot line's `role` or `street`, or an attribute
    /// of its kind by name.
    fn fact(&self, features: &[Feature], name: &str) -> Vec<Option<Value>>;
    /// A stated length, area, slope or angle of each feature, with its accuracy.
    fn stated(&self, features: &[Feature], name: &str) -> Vec<Option<Self::Amount>>;
    /// A stated list of lengths of each feature, in the order stated; empty when it is not stated.
    fn stated_each(&self, features: &[Feature], name: &str) -> Vec<Vec<Self::Amount>>;
    /// A feature's outer ring, line or centre, empty when it is not drawn: to search and to draw, never to judge
    /// by.
    fn outline(&self, of: Feature) -> Vec<Place>;

    /// A fact of each feature that is stated in words.
    fn texts(&self, features: &[Feature], name: &str) -> Vec<Option<String>> {
        let words = |value| match value {
            Some(Value::Text(text)) => Some(text),
            _ => None,
        };
        self.fact(features, name).into_iter().map(words).collect()
    }
}
