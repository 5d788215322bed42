//! The side of the kit that speaks to a host; only in a build for the sandbox.
//!
//! Authors do not need it: [`crate::module!`] does what there is to do.

pub mod bindings;
mod convert;
mod exported;
mod ground;
mod host;
mod rain;

pub use exported::Exported;
pub use host::Host;
