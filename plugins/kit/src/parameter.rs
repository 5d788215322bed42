//! Parameters: named, explained and read in one place, so that what a check says of them is what it reads.

use groundrule_units::{Dimension, Length};

use crate::{Asked, ParameterInfo, Refusal, Value};

/// A parameter that is one of a few words.
#[derive(Clone, Copy, Debug)]
pub struct Choice<T: 'static> {
    name: &'static str,
    summary: &'static str,
    words: &'static [(&'static str, T)],
    otherwise: T,
}

impl<T: Copy> Choice<T> {
    /// A parameter with the words it may be, what each stands for, and what holds when the row does not say.
    pub const fn new(
        name: &'static str,
        summary: &'static str,
        words: &'static [(&'static str, T)],
        otherwise: T,
    ) -> Self {
        Self { name, summary, words, otherwise }
    }

    /// What a check says of it.
    pub const fn info(&self) -> ParameterInfo {
        ParameterInfo { name: self.name, summary: self.summary }
    }

    /// What the row says.
    ///
    /// # Errors
    /// Another word, or no word at all: names the words that are known.
    pub fn read(&self, ground: &impl Asked) -> Result<T, Refusal> {
        let given = match ground.parameter(self.name) {
            None => return Ok(self.otherwise),
            Some(Value::Text(text)) => {
                if let Some((_, found)) = self.words.iter().find(|(word, _)| *word == text) {
                    return Ok(*found);
                }
                format!("\"{text}\"")
            }
            Some(other) => other.sort().to_owned(),
        };
        let words: Vec<String> = self.words.iter().map(|(word, _)| format!("\"{word}\"")).collect();
        Err(Refusal::new(format!("parameter `{}` is {given}; it may be {}", self.name, words.join(" or "))))
    }
}

/// A parameter that is a length, zero or more.
#[derive(Clone, Copy, Debug)]
pub struct LengthParameter {
    name: &'static str,
    summary: &'static str,
}

impl LengthParameter {
    /// A length that shapes the measurement.
    pub const fn new(name: &'static str, summary: &'static str) -> Self {
        Self { name, summary }
    }

    /// What a check says of it.
    pub const fn info(&self) -> ParameterInfo {
        ParameterInfo { name: self.name, summary: self.summary }
    }

    /// What the row says, if it says anything.
    ///
    /// # Errors
    /// Anything but a length of zero or more.
    pub fn read(&self, ground: &impl Asked) -> Result<Option<Length>, Refusal> {
        let wrong = |given: &str| {
            Err(Refusal::new(format!(
                "parameter `{}` is {given}; give a length with its unit, such as \"20 ft\"",
                self.name,
            )))
        };
        match ground.parameter(self.name) {
            None => Ok(None),
            Some(Value::Quantity(quantity)) => match quantity.length() {
                Some(length) if !length.is_finite() => wrong("not a finite length"),
                Some(length) if length < Length::ZERO => wrong("less than zero"),
                Some(length) => Ok(Some(length)),
                None => wrong(dimension_words(quantity.dimension())),
            },
            Some(other) => wrong(other.sort()),
        }
    }
}

const fn dimension_words(dimension: Dimension) -> &'static str {
    match dimension {
        Dimension::Length => "a length",
        Dimension::Area => "an area",
        Dimension::Volume => "a volume",
        Dimension::Angle => "an angle",
        Dimension::Ratio => "a ratio",
        Dimension::Flow => "a flow",
        Dimension::Speed => "a speed",
        Dimension::Time => "a time",
    }
}
