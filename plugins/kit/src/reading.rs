//! What a check answers with.

use std::borrow::Cow;

use crate::{Feature, Mark, Need};

/// One answer to one question. Every subject needs at least one, or the module has failed.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading<A> {
    /// The subject first, then what it was measured to.
    pub features: Vec<Feature>,
    /// The answer.
    pub answer: Answer<A>,
    /// What to draw, besides what the amount itself shows.
    pub marks: Vec<Mark>,
    /// Named facts, for the limit and the message of the rule.
    pub facts: Vec<(Cow<'static, str>, Fact<A>)>,
}

/// What a check found.
#[derive(Clone, Debug, PartialEq)]
pub enum Answer<A> {
    /// An amount, to be judged against the rule's limit.
    Amount(A),
    /// A whole number, compared exactly.
    Count(u32),
    /// A stated yes or no.
    Truth(bool),
    /// It cannot be said, because data is lacking.
    Lacking(Vec<Need>),
    /// The question does not arise, and why.
    NotApplicable(String),
}

/// A fact of a reading.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact<A> {
    /// An amount.
    Amount(A),
    /// A whole number.
    Count(u32),
    /// Yes or no.
    Flag(bool),
    /// Words.
    Text(String),
}

impl<A> Reading<A> {
    /// An answer about a subject.
    pub fn new(subject: Feature, answer: Answer<A>) -> Self {
        Self { features: vec![subject], answer, marks: Vec::new(), facts: Vec::new() }
    }

    /// An amount, to be judged against the rule's limit.
    pub fn amount(subject: Feature, amount: A) -> Self {
        Self::new(subject, Answer::Amount(amount))
    }

    /// A stated yes or no.
    pub fn truth(subject: Feature, truth: bool) -> Self {
        Self::new(subject, Answer::Truth(truth))
    }

    /// One thing is lacking: `Reading::lacking(gate, Need::new("clear opening of gate-1", "measure ..."))`.
    pub fn lacking(subject: Feature, need: Need) -> Self {
        Self::new(subject, Answer::Lacking(vec![need]))
    }

    /// The question does not arise, and why.
    pub fn not_applicable(subject: Feature, why: impl Into<String>) -> Self {
        Self::new(subject, Answer::NotApplicable(why.into()))
    }

    /// Adds what the subject was measured to.
    pub fn to(mut self, other: Feature) -> Self {
        self.features.push(other);
        self
    }

    /// Adds something to draw.
    pub fn mark(mut self, mark: Mark) -> Self {
        self.marks.push(mark);
        self
    }

    /// Adds a fact in words.
    pub fn text(mut self, name: &'static str, text: impl Into<String>) -> Self {
        self.facts.push((Cow::Borrowed(name), Fact::Text(text.into())));
        self
    }

    /// Adds a fact in words, where there are any.
    pub fn text_if(self, name: &'static str, text: Option<impl Into<String>>) -> Self {
        match text {
            Some(text) => self.text(name, text),
            None => self,
        }
    }

    /// Says in words what was found, for an answer whose figure tells a reader nothing, and what a limit of zero asks:
    /// `said("water there", "no water there")`. Reports print the words in place of the figure.
    pub fn said(self, found: impl Into<String>, zero: &'static str) -> Self {
        self.text("shown_as", found).text("zero_as", zero)
    }

    /// Adds an amount as a fact.
    pub fn shown(mut self, name: &'static str, amount: A) -> Self {
        self.facts.push((Cow::Borrowed(name), Fact::Amount(amount)));
        self
    }

    /// Adds a whole number as a fact.
    pub fn counted(mut self, name: &'static str, count: u32) -> Self {
        self.facts.push((Cow::Borrowed(name), Fact::Count(count)));
        self
    }

    /// Adds a yes or no as a fact.
    pub fn flag(mut self, name: &'static str, flag: bool) -> Self {
        self.facts.push((Cow::Borrowed(name), Fact::Flag(flag)));
        self
    }

    /// Adds a fact of one thing of a list, counted from 1: with `cover` the fact is called `item_3_cover`, and
    /// reports print what they know of each thing as one line. `name` says what to call the thing.
    pub fn listed(mut self, item: usize, name: &str, fact: Fact<A>) -> Self {
        self.facts.push((Cow::Owned(format!("item_{item}_{name}")), fact));
        self
    }

    /// The fact of this name, if the reading has it.
    pub fn fact(&self, name: &str) -> Option<&Fact<A>> {
        self.facts.iter().find(|(given, _)| given == name).map(|(_, fact)| fact)
    }
}
