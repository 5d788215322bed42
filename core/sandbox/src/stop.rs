//! Why a run ended early: the host's own reasons, and what the engine's traps mean.

use std::fmt;

use wasmtime::Trap;

use crate::{Failure, Limits};

/// The host's reason for stopping a module in the middle of a call.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Stop {
    pub(crate) failure: Failure,
    pub(crate) message: String,
}

impl Stop {
    pub(crate) fn new(failure: Failure, message: impl Into<String>) -> Self {
        Self { failure, message: message.into() }
    }

    /// The module did what the interface does not allow.
    pub(crate) fn misuse(message: impl Into<String>) -> Self {
        Self::new(Failure::Misuse, message)
    }

    /// The module's answer cannot be used.
    pub(crate) fn bad_answer(message: impl Into<String>) -> Self {
        Self::new(Failure::BadAnswer, message)
    }

    /// Out of fuel, whether the module or the host worked for it.
    pub(crate) fn fuel(limits: &Limits) -> Self {
        Self::new(
            Failure::Fuel,
            format!(
                "It used all of its {} units of fuel; raise the fuel limit, or give the rule fewer features.",
                limits.fuel
            ),
        )
    }

    /// A text longer than the limit.
    pub(crate) fn text(what: &str, length: usize, limits: &Limits) -> Self {
        Self::new(
            Failure::ResultSize,
            format!("{what} has {length} bytes; the text limit is {} bytes.", limits.text),
        )
    }

    /// What an error from the engine means. The engine's own words are for engineers and are not passed on,
    /// except where they are all there is.
    pub(crate) fn from_engine(error: &wasmtime::Error, limits: &Limits) -> Self {
        if let Some(stop) = error.downcast_ref::<Self>() {
            return stop.clone();
        }
        if let Some(trap) = error.downcast_ref::<Trap>() {
            return Self::from_trap(*trap, limits);
        }
        let root = error.root_cause().to_string();
        if root.contains("fuel allocated for hostcalls") {
            return Self::new(
                Failure::ResultSize,
                format!("It handed over more in one call than the result limit of {} bytes.", limits.result),
            );
        }
        if root.contains("handle limit exceeded") {
            return Self::new(
                Failure::Memory,
                format!(
                    "It handed over more amounts in one call than go with the limit of {} that it may hold; ask in parts.",
                    limits.amounts
                ),
            );
        }
        if root.contains("handle") || root.contains("resource") {
            return Self::misuse(format!(
                "It used an amount that it does not hold ({}).",
                crate::neutral(&root)
            ));
        }
        Self::new(Failure::Trap, format!("It broke off: {}.", crate::neutral(&root)))
    }

    fn from_trap(trap: Trap, limits: &Limits) -> Self {
        match trap {
            Trap::OutOfFuel => Self::fuel(limits),
            Trap::Interrupt => Self::new(
                Failure::Time,
                format!("It ran longer than the safety net of {} s.", limits.seconds),
            ),
            Trap::StackOverflow => Self::new(
                Failure::Stack,
                format!("Its calls went deeper than the stack limit of {} bytes.", limits.stack),
            ),
            // The second stack that compilers keep in memory is bounded by the module and not by us.
            Trap::MemoryOutOfBounds => Self::new(
                Failure::Trap,
                "It reached outside of its memory, as it does when its own calls go too deep.",
            ),
            Trap::UnreachableCodeReached => {
                Self::new(Failure::Trap, "It gave up without saying why; a kit's panic hook would tell.")
            }
            other => {
                let words = other.to_string();
                Self::new(
                    Failure::Trap,
                    format!("It broke off: {}.", words.strip_prefix("wasm trap: ").unwrap_or(&words)),
                )
            }
        }
    }
}

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Stop {}
