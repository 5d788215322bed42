//! What a module exports, and its last words.

use std::marker::PhantomData;
use std::panic::PanicHookInfo;
use std::sync::Once;

use super::bindings::exports::groundrule::rules::checks as out;
use super::bindings::groundrule::rules::trouble;
use super::{Host, convert};
use crate::Module;

/// The exports of a module.
pub struct Exported<M>(PhantomData<M>);

impl<M: Module> out::Guest for Exported<M> {
    fn version() -> String {
        listen_for_panics();
        M::VERSION.to_owned()
    }

    fn describe() -> Vec<out::CheckInfo> {
        listen_for_panics();
        M::checks().iter().map(convert::info).collect()
    }

    fn run(check: String) -> Result<Vec<out::Reading>, String> {
        listen_for_panics();
        match M::run(&check, &Host) {
            Ok(readings) => Ok(readings.into_iter().map(convert::reading).collect()),
            Err(refusal) => Err(refusal.message().to_owned()),
        }
    }
}

/// A panic in a guest ends in a bare trap; the hook hands the host its message and source line first.
fn listen_for_panics() {
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        std::panic::set_hook(Box::new(|info: &PanicHookInfo<'_>| {
            let message = info.payload_as_str().unwrap_or("a panic without a message");
            let (file, line) = info.location().map_or(("", 0), |at| (at.file(), at.line()));
            trouble::panicked(message, file, line);
        }));
    });
}
