//! Runs one rule module on one site, where it can reach nothing but the site.
//!
//! A module measures and never sees a limit. It gets fuel, memory and room for text; whatever it runs out
//! of, breaks or does wrong comes back as a [`Blame`] that names it.

mod blame;
mod limits;
mod module;
mod task;

pub use blame::{Blame, Failure};
pub use limits::Limits;
pub use module::{CodeCache, Module, Sandbox};
pub use task::{Answer, CheckInfo, ParameterInfo, Reading, Task};
