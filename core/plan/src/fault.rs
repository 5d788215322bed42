//! What is wrong with a file, and where.

use std::sync::Arc;

/// A file's name and its text, shared by everything that points into it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// The name shown in messages.
    pub name: String,
    /// The text.
    pub text: Arc<str>,
}

/// A range of bytes in the file that a value came from. Empty for what no file says.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// First byte.
    pub start: u32,
    /// One past the last byte.
    pub end: u32,
}

impl From<std::ops::Range<usize>> for Span {
    fn from(range: std::ops::Range<usize>) -> Self {
        // A file longer than `u32` reaches is refused before any span is made of it.
        let clamp = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        Self { start: clamp(range.start), end: clamp(range.end) }
    }
}

/// One thing wrong with a file: what, where, and what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Stable code, for example `plan::unknown-kind`.
    pub code: &'static str,
    /// What is wrong, in one sentence.
    pub message: String,
    /// Where, with what to say beside it; the first is the main one.
    pub labels: Vec<(Span, String)>,
    /// What to do about it.
    pub help: Option<String>,
}

impl Fault {
    /// A fault at one place, with what to say beside it.
    pub fn new(code: &'static str, message: impl Into<String>, at: Span, beside: &str) -> Self {
        Self { code, message: message.into(), labels: vec![(at, beside.to_owned())], help: None }
    }

    /// The same with what to do about it.
    pub fn with_help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// The same with one more place.
    pub fn with_label(mut self, at: Span, beside: impl Into<String>) -> Self {
        self.labels.push((at, beside.into()));
        self
    }
}

/// Everything wrong with one file.
#[derive(Clone, Debug)]
pub struct Faults {
    /// The file.
    pub source: Source,
    /// At least one fault, in file order.
    pub faults: Vec<Fault>,
}

/// How grave a remark on the data is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gravity {
    /// It cannot be so: an outline that crosses itself.
    Wrong,
    /// It can be, but asks to be looked at: a shed of 400 ft.
    Suspect,
    /// Something is not there that later work needs.
    Lacking,
    /// Worth knowing; changes nothing.
    Noted,
}

/// A finding on the data itself, made while the plan was read and resolved.
///
/// Unlike a [`Fault`] it does not stop the work: what it names is left out or marked, and the rest goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct Remark {
    /// Stable code, for example `data::crossing-outline`.
    pub code: &'static str,
    /// How grave it is.
    pub gravity: Gravity,
    /// What is the matter, in one sentence.
    pub message: String,
    /// The features, lots, points or measurements concerned.
    pub about: Vec<crate::Name>,
    /// Where on the plan, in sheet coordinates.
    pub spots: Vec<(groundrule_units::Length, groundrule_units::Length)>,
    /// Where in the file.
    pub span: Span,
    /// What to do about it.
    pub help: Option<String>,
}
