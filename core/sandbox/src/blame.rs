//! Who failed, at what, and how.

use std::fmt;

/// How a module failed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Failure {
    /// Not a module at all.
    NotAModule,
    /// Written for an interface older than this program knows.
    TooOld,
    /// Written for an interface newer than this program knows.
    TooNew,
    /// It asks for something that is not in the interface.
    ForeignImport,
    /// Out of fuel.
    Fuel,
    /// Out of wall-clock time; the safety net, never a verdict.
    Time,
    /// Out of memory.
    Memory,
    /// Out of stack.
    Stack,
    /// It returned more than allowed.
    ResultSize,
    /// It panicked.
    Panic,
    /// It trapped.
    Trap,
    /// It broke the rules of the interface: a feature, an amount or a number that it may not use.
    Misuse,
    /// It returned an error of its own.
    Refused,
    /// It left a subject without an answer, or answered for one it was not given.
    BadAnswer,
    /// The sandbox itself could not be set up; no module's fault.
    Setup,
}

impl Failure {
    /// The failure in two or three words: `out of fuel`.
    pub const fn words(self) -> &'static str {
        match self {
            Self::NotAModule => "not a rule module",
            Self::TooOld => "interface too old",
            Self::TooNew => "interface too new",
            Self::ForeignImport => "asks for more than the interface",
            Self::Fuel => "out of fuel",
            Self::Time => "out of time",
            Self::Memory => "out of memory",
            Self::Stack => "out of stack",
            Self::ResultSize => "returned too much",
            Self::Panic => "panicked",
            Self::Trap => "trapped",
            Self::Misuse => "broke the interface's rules",
            Self::Refused => "returned an error",
            Self::BadAnswer => "bad answer",
            Self::Setup => "sandbox not available",
        }
    }
}

/// A failure with everything needed to find its author.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Blame {
    /// The module.
    pub module: String,
    /// Its version, if it got so far as to say.
    pub version: Option<String>,
    /// The rule it was working on.
    pub rule: Option<String>,
    /// How it failed.
    pub failure: Failure,
    /// What happened and what to do, in one or two sentences.
    pub message: String,
    /// Fuel used, if it ran.
    pub fuel_used: Option<u64>,
}

impl fmt::Display for Blame {
    /// One line: `module setbacks 0.1.0, rule yard-rear: out of fuel. It used ... (2000000000 units of fuel used)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "module {}", self.module)?;
        if let Some(version) = &self.version {
            write!(f, " {version}")?;
        }
        if let Some(rule) = &self.rule {
            write!(f, ", rule {rule}")?;
        }
        write!(f, ": {}. {}", self.failure.words(), self.message)?;
        if let Some(fuel) = self.fuel_used {
            write!(f, " ({fuel} units of fuel used)")?;
        }
        Ok(())
    }
}

impl std::error::Error for Blame {}
