//! What stops a command, and the exit code that says so.

use groundrule_plan::Faults;

/// The program's exit codes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Exit {
    /// Nothing that is required fails or is open.
    Clear = 0,
    /// There are findings to answer.
    Findings = 1,
    /// The input or the command line could not be used.
    Input = 2,
    /// A module or the program failed.
    Tool = 3,
}

/// Why a command stopped.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// Something the user can put right, and how.
    Input {
        /// What is wrong.
        what: String,
        /// What to do.
        help: String,
    },
    /// Faults in a file, each with its place.
    Faults(Faults),
    /// A module could not be used.
    Module(groundrule_sandbox::Blame),
    /// The reader of our output went away, which is no trouble at all.
    BrokenPipe,
    /// The output could not be written.
    Output(std::io::Error),
}

impl Trouble {
    pub(crate) fn input(what: impl Into<String>, help: impl Into<String>) -> Self {
        Self::Input { what: what.into(), help: help.into() }
    }

    pub(crate) fn exit(&self) -> Exit {
        match self {
            Self::Input { .. } | Self::Faults(_) => Exit::Input,
            Self::BrokenPipe => Exit::Clear,
            Self::Module(_) | Self::Output(_) => Exit::Tool,
        }
    }
}

impl From<Faults> for Trouble {
    fn from(faults: Faults) -> Self {
        Self::Faults(faults)
    }
}

impl From<std::io::Error> for Trouble {
    fn from(error: std::io::Error) -> Self {
        if error.kind() == std::io::ErrorKind::BrokenPipe { Self::BrokenPipe } else { Self::Output(error) }
    }
}
