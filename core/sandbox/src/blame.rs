//! Who failed, at what, and how.

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
    /// It returned an error of its own.
    Refused,
    /// It left a subject without an answer, or answered for one it was not given.
    BadAnswer,
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
