//! What can go wrong, in words that a build log can show as they are.

use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why a guest could not be built.
pub enum GuestError {
    /// Called from outside a build script.
    NotABuildScript {
        /// The variable that cargo did not set.
        variable: &'static str,
    },
    /// Cargo could not be started.
    Start {
        /// The program tried.
        program: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// The standard library for the guest target is not installed.
    NoTarget,
    /// The guest did not compile.
    Compile {
        /// The guest's package.
        package: String,
        /// What the compiler said.
        log: String,
    },
    /// A file of the build could not be read.
    Read {
        /// The file.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// A file of the build could not be written.
    Write {
        /// The file.
        path: PathBuf,
        /// Why.
        source: io::Error,
    },
    /// The compiled module is not one that can be wrapped.
    Wrap {
        /// The core module.
        path: PathBuf,
        /// Why.
        cause: String,
    },
}

impl fmt::Display for GuestError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NotABuildScript { variable } => {
                write!(f, "{variable} is not set: guests are built from a build script")
            }
            Self::Start { program, source } => write!(f, "cannot start {}: {source}", program.display()),
            Self::NoTarget => {
                write!(f, "rule modules need the target {0}; run: rustup target add {0}", crate::TARGET)
            }
            Self::Compile { package, log } => write!(f, "the rule module {package} does not build:\n{log}"),
            Self::Read { path, source } => write!(f, "cannot read {}: {source}", path.display()),
            Self::Write { path, source } => write!(f, "cannot write {}: {source}", path.display()),
            Self::Wrap { path, cause } => {
                write!(f, "{} cannot be wrapped as a component: {cause}", path.display())
            }
        }
    }
}

// A build script's `main` shows its error through `Debug`; let it read like a sentence.
impl fmt::Debug for GuestError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl std::error::Error for GuestError {}
