//! The rule modules and packs inside the program.
//!
//! The modules are built for the sandbox when this crate is, and are loaded like any other module: being
//! built in gives them no right that a stranger's module does not have.

mod docs;
mod modules;
mod packs;

pub use docs::check_doc;
pub use modules::{BuiltIn, modules};
pub use packs::{BuiltInPack, packs};
