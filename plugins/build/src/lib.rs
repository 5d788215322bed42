//! Compiles a guest crate of this workspace for WebAssembly and wraps it as a component.
//!
//! For build scripts. The guest is built by the same cargo into a target folder of its own, so that the
//! two builds never wait for each other's lock, and with none of the outer build's flags, so that the
//! module's bytes do not depend on who builds the program around it.

#![allow(clippy::disallowed_methods, reason = "a build script lives on files and cargo's environment")]

mod cargo;
mod error;
mod watch;

use std::path::{Path, PathBuf};

use wit_component::ComponentEncoder;

pub use cargo::Order;
pub use error::GuestError;

/// The target that guests are built for: it has no clock, no files and no random numbers to import.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// Builds a guest for the build script that calls this, and writes `OUT_DIR/<package>.wasm`.
///
/// Tells cargo to run the script again when any source of the guest changes. Returns the path written.
pub fn build(package: &str) -> Result<PathBuf, GuestError> {
    let order = Order::from_build_script(package)?;
    let core = cargo::compile(&order)?;
    watch::announce(&core.with_extension("d"), order.lock().as_deref())?;
    let component = wrap(&core)?;
    let path = order.folder.join(format!("{package}.wasm"));
    std::fs::write(&path, component).map_err(|source| GuestError::Write { path: path.clone(), source })?;
    Ok(path)
}

/// Wraps a core module that carries its interface description as a component.
pub fn wrap(core: &Path) -> Result<Vec<u8>, GuestError> {
    let bytes =
        std::fs::read(core).map_err(|source| GuestError::Read { path: core.to_path_buf(), source })?;
    ComponentEncoder::default()
        .validate(true)
        .module(&bytes)
        .and_then(ComponentEncoder::encode)
        .map_err(|cause| GuestError::Wrap { path: core.to_path_buf(), cause: format!("{cause:#}") })
}
