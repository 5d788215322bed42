//! Runs one rule module on one site, where it can reach nothing but the site.
//!
//! A module measures and never sees a limit. It gets fuel, memory and room for text; whatever it runs out
//! of, breaks or does wrong comes back as a [`Blame`] that names it, and never looks like an answer.
//!
//! The life of a module: `interface` reads from its names which version it was built for, `cache` compiles
//! it or finds its code in the user's own cache, `session` gives each run a fresh store, `host` answers its
//! calls and charges for them (`cost`), and `readings` checks all it returned before anyone else sees it.

mod bindings;
mod blame;
mod cache;
mod convert;
mod cost;
mod engine;
mod host;
mod interface;
mod limits;
mod module;
mod readings;
mod session;
mod state;
mod stop;
mod task;
mod text;

pub use blame::{Blame, Failure};
pub use cache::CodeCache;
pub use limits::Limits;
pub use module::{Module, Sandbox};
pub use task::{Answer, CheckInfo, ParameterInfo, Reading, Task};
pub use text::neutral;
