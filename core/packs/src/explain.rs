//! A row in words: what it asks, on whose authority, why, and where that was set.

use groundrule_plan::Status;
use groundrule_site::Parameter;

use crate::selector::role_word;
use crate::{Bound, Draws, Exception, Having, Limit, Pack, Provenance, Row, Selector, Sense};

/// One line of an explanation.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Explained {
    /// What the line is about: `Limit`, `Source`.
    pub heading: &'static str,
    /// What there is to say.
    pub text: String,
}

impl Row {
    /// The row explained, line by line, in reading order.
    pub fn explain(&self, pack: &Pack) -> Vec<Explained> {
        let mut lines = Vec::new();
        let mut line = |heading, text: String| {
            if !text.is_empty() {
                lines.push(Explained { heading, text });
            }
        };
        line("Rule", format!("{} ({}/{})", self.title, pack.name, self.id.0));
        line("About", self.subject.words());
        for class in pack.classes.iter().filter(|class| self.subject.classes.contains(&class.name)) {
            let (name, fact) = (class.name.replace('-', " "), class.fact.replace('_', " "));
            let limit = class.limit.words();
            line("Class", format!("{name}: {fact} {limit} ({})", class.provenance.words()));
        }
        for (group, selector) in &self.against {
            line("Measured to", format!("{}: {}", group.replace('-', " "), selector.words()));
        }
        line("Limit", self.limit.words());
        line("Asked", self.asked());
        for exception in &self.exceptions {
            line("Except", exception.words());
        }
        line("Weight", self.weight.words().to_owned());
        let section = self.section.as_ref().map(|section| format!(", {section}")).unwrap_or_default();
        line("Source", format!("{}{section}", self.citation));
        line("Standing", self.standing.words().to_owned());
        line("Why", self.why.clone());
        line("If not met", self.message.clone());
        line("Relief", self.relief.clone().unwrap_or_default());
        line("Ask", self.referral.clone().unwrap_or_default());
        line("Check", format!("{}{}", self.check, self.with_words()));
        line("Set at", self.provenance.words());
        lines
    }

    fn asked(&self) -> String {
        let mut parts = Vec::new();
        if !self.districts.is_empty() {
            parts.push(format!("in district {}", self.districts.join(" or ")));
        }
        if !self.overlays.is_empty() {
            parts.push(format!("in overlay {}", self.overlays.join(" or ")));
        }
        if let Some(when) = &self.when {
            parts.push(format!("where {}", when.text()));
        }
        if self.existing_counts {
            parts.push("of what stands already as of what is proposed".to_owned());
        }
        if self.draws == Some(Draws::Setback) {
            parts.push("drawn as the setback line".to_owned());
        }
        parts.join("; ")
    }

    fn with_words(&self) -> String {
        let with = self.with.iter().map(|(name, value)| format!(" {name} = {}", parameter(value)));
        let with: Vec<String> = with.collect();
        if with.is_empty() { String::new() } else { format!(" with{}", with.join(",")) }
    }
}

fn parameter(value: &Parameter) -> String {
    match value {
        Parameter::Quantity(quantity) => {
            groundrule_units::show(*quantity, groundrule_units::Style::FeetInches)
        }
        Parameter::Count(count) => count.to_string(),
        Parameter::Flag(flag) => flag.to_string(),
        Parameter::Text(text) => text.clone(),
        Parameter::List(texts) => texts.join(" "),
    }
}

impl Provenance {
    /// Where a limit was set, for a person to find it: pack, version, file and line, and what it overrides.
    pub fn words(&self) -> String {
        let overrides = if self.overrides.is_empty() {
            String::new()
        } else {
            format!(", overriding {}", self.overrides.join(", then "))
        };
        format!("{} {}, {}:{}{overrides}", self.pack, self.version, self.file, self.line)
    }
}

impl Exception {
    /// The exception in words.
    pub fn words(&self) -> String {
        let instead = self.limit.as_ref().map_or_else(|| "the rule falls away".to_owned(), Limit::words);
        format!("where {}: {instead} ({})", self.when.text(), self.citation)
    }
}

impl Limit {
    /// The limit in words, in the unit its source prints: `at least 5 ft (1.52 m)`.
    pub fn words(&self) -> String {
        let also = self.also.as_ref().map(|also| format!(" ({})", also.text)).unwrap_or_default();
        let figure = self.bound.words();
        match self.sense {
            Sense::AtLeast => format!("at least {figure}{also}"),
            Sense::MoreThan => format!("more than {figure}{also}"),
            Sense::AtMost => format!("at most {figure}{also}"),
            Sense::LessThan => format!("less than {figure}{also}"),
            Sense::Between => {
                let upper = self.upper.as_ref().map(Bound::words).unwrap_or_default();
                format!("between {figure} and {upper}{also}")
            }
            Sense::Holds => "it must be so".to_owned(),
            Sense::HoldsNot => "it must not be so".to_owned(),
        }
    }
}

impl Bound {
    /// The figure in words.
    pub fn words(&self) -> String {
        match self {
            Self::None => String::new(),
            Self::Constant(figure) => figure.text.clone(),
            Self::Count(count) => count.to_string(),
            Self::Table { by, rows, otherwise } => {
                let rows =
                    rows.iter().map(|(value, figure)| format!("{} where {by} is {value}", figure.text));
                let other = otherwise.iter().map(|figure| format!("otherwise {}", figure.text));
                rows.chain(other).collect::<Vec<_>>().join(", ")
            }
            Self::Formula(formula, _) => format!("the result of `{}`", formula.text()),
        }
    }
}

impl Selector {
    /// Who is chosen, in words.
    pub fn words(&self) -> String {
        let mut words = if self.kinds.is_empty() { "anything".to_owned() } else { self.kinds.join(" or ") };
        let mut add = |before: &str, of: Vec<String>| {
            if !of.is_empty() {
                words.push_str(before);
                words.push_str(&of.join(" or "));
            }
        };
        add(" but not ", self.except.clone());
        add(", ", self.roles.iter().map(|role| role_word(*role).replace('_', " ")).collect());
        add(", ", self.status.iter().map(|status| status_word(*status).to_owned()).collect());
        add(", of class ", self.classes.clone());
        for (fact, having) in &self.having {
            words.push_str(", with ");
            words.push_str(&having_words(fact, having));
        }
        if self.optional {
            words.push_str(", if there are any");
        }
        words
    }
}

fn having_words(fact: &str, having: &Having) -> String {
    match having {
        Having::Stated | Having::Flag(true) => fact.to_owned(),
        Having::Absent => format!("no {fact} stated"),
        Having::Flag(false) => format!("{fact} denied"),
        Having::Text(text) => format!("{fact} \"{text}\""),
    }
}

fn status_word(status: Status) -> &'static str {
    match status {
        Status::Existing => "existing",
        Status::Proposed => "proposed",
        Status::Remove => "to be removed",
    }
}
