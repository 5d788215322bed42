//! Parameters that are words, lists of them, or a yes or no.

use groundrule_kit::{Asked, ParameterInfo, Refusal, Value};

/// A named parameter of a row.
#[derive(Clone, Copy)]
pub(crate) struct Parameter {
    name: &'static str,
    summary: &'static str,
}

impl Parameter {
    pub(crate) const fn new(name: &'static str, summary: &'static str) -> Self {
        Self { name, summary }
    }

    /// What a check says of it.
    pub(crate) const fn info(&self) -> ParameterInfo {
        ParameterInfo { name: self.name, summary: self.summary }
    }

    /// One text, where the row gives one.
    pub(crate) fn text(&self, ground: &impl Asked) -> Result<Option<String>, Refusal> {
        match ground.parameter(self.name) {
            None => Ok(None),
            Some(Value::Text(text)) => Ok(Some(text)),
            Some(other) => Err(self.wrong(&other, "a text")),
        }
    }

    /// Any number of texts; one may stand without brackets.
    pub(crate) fn texts(&self, ground: &impl Asked) -> Result<Vec<String>, Refusal> {
        match ground.parameter(self.name) {
            None => Ok(Vec::new()),
            Some(Value::Text(text)) => Ok(vec![text]),
            Some(Value::Texts(texts)) => Ok(texts),
            Some(other) => Err(self.wrong(&other, "a text or a list of texts")),
        }
    }

    /// A yes or no; no when the row does not say.
    pub(crate) fn flag(&self, ground: &impl Asked) -> Result<bool, Refusal> {
        match ground.parameter(self.name) {
            None => Ok(false),
            Some(Value::Flag(flag)) => Ok(flag),
            Some(other) => Err(self.wrong(&other, "`true` or `false`")),
        }
    }

    /// The refusal of a row that leaves it out.
    pub(crate) fn needed(&self, example: &str) -> Refusal {
        Refusal::new(format!("parameter `{}` is not given; give {example}", self.name))
    }

    fn wrong(&self, given: &Value, wanted: &str) -> Refusal {
        Refusal::new(format!("parameter `{}` is {}; give {wanted}", self.name, given.sort()))
    }
}
