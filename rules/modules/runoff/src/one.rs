//! The interface answers lists; most checks here ask about one thing at a time.

use groundrule_kit::{Feature, Ground, Need, Ratio, Reading, Value};

/// The one answer of a list of one.
pub(crate) fn one<T>(mut answers: Vec<Option<T>>) -> Option<T> {
    answers.pop().flatten()
}

/// The same amount once more, for a fact beside an answer.
pub(crate) fn copy<G: Ground>(ground: &G, amount: &G::Amount) -> Option<G::Amount> {
    ground.scale(&[(amount, 1.0)]).pop()
}

/// The product of two amounts.
pub(crate) fn times<G: Ground>(ground: &G, a: &G::Amount, b: &G::Amount) -> Option<G::Amount> {
    one(ground.product(&[vec![(a, 1), (b, 1)]]))
}

/// One over the other, of two dimensions.
pub(crate) fn over<G: Ground>(ground: &G, a: &G::Amount, b: &G::Amount) -> Option<G::Amount> {
    one(ground.product(&[vec![(a, 1), (b, -1)]]))
}

/// An amount that the row gives or, failing that, the subject states.
pub(crate) fn given_or_stated<G: Ground>(
    ground: &G,
    parameter: &str,
    subject: Feature,
    fact: &str,
) -> Option<G::Amount> {
    ground.parameter_amount(parameter).or_else(|| stated(ground, subject, fact))
}

/// An amount that a feature states.
pub(crate) fn stated<G: Ground>(ground: &G, of: Feature, fact: &str) -> Option<G::Amount> {
    one(ground.stated(&[of], fact))
}

/// A plain number that a feature states.
pub(crate) fn number<G: Ground>(ground: &G, of: Feature, fact: &str) -> Option<f64> {
    match one(ground.fact(&[of], fact)) {
        Some(Value::Quantity(quantity)) => quantity.ratio().map(Ratio::fraction),
        _ => None,
    }
}

/// A fact in words that a feature states.
pub(crate) fn text<G: Ground>(ground: &G, of: Feature, fact: &str) -> Option<String> {
    one(ground.texts(&[of], fact))
}

/// What to call a feature.
pub(crate) fn label<G: Ground>(ground: &G, of: Feature) -> String {
    ground.labels(&[of]).concat()
}

/// What is not stated of a feature, and how to get it.
pub(crate) fn unstated(fact: &str, label: &str, how: &str) -> Need {
    Need::new(format!("{} of {label}", fact.replace('_', " ")), format!("{how} and state it as `{fact}`"))
}

/// Gathers what is stated, and what to state where it is not.
pub(crate) struct Asking<'a, G: Ground> {
    pub(crate) ground: &'a G,
    pub(crate) of: Feature,
    pub(crate) label: String,
    pub(crate) needs: Vec<Need>,
}

impl<'a, G: Ground> Asking<'a, G> {
    pub(crate) fn of(ground: &'a G, of: Feature) -> Self {
        Self { ground, of, label: label(ground, of), needs: Vec::new() }
    }

    /// A stated amount, or a need.
    pub(crate) fn amount(&mut self, fact: &str, how: &str) -> Option<G::Amount> {
        let found = stated(self.ground, self.of, fact);
        self.note(found.is_some(), fact, how);
        found
    }

    /// A stated number, or a need.
    pub(crate) fn number(&mut self, fact: &str, how: &str) -> Option<f64> {
        let found = number(self.ground, self.of, fact);
        self.note(found.is_some(), fact, how);
        found
    }

    /// Notes what is not stated.
    pub(crate) fn note(&mut self, there: bool, fact: &str, how: &str) {
        if !there {
            self.needs.push(unstated(fact, &self.label, how));
        }
    }

    /// The reading that names what is not stated; where all is, the method has no answer, for this reason.
    pub(crate) fn lacking(self, otherwise: (&str, &str)) -> Reading<G::Amount> {
        let needs = if self.needs.is_empty() {
            vec![Need::new(format!("{} of {}", otherwise.0, self.label), otherwise.1)]
        } else {
            self.needs
        };
        Reading::new(self.of, groundrule_kit::Answer::Lacking(needs))
    }
}
