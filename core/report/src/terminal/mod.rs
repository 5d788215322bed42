//! For a terminal: words first, colour only on top of them.
//!
//! Styles are written into the text; the program takes them out where a stream or a person does not want
//! them. Nothing is said by style alone.

mod areas;
mod fieldwork;
mod findings;
mod page;
mod readings;
mod rules;
mod survey;

use groundrule_sandbox::Blame;

pub use areas::areas;
pub use fieldwork::fieldwork;
pub use findings::review;
pub use rules::{packs, rule, rules};
pub use survey::{Surveyed, survey};

use crate::safe;

/// A stopped module in one line: who, at what, how, and how much fuel it used.
pub fn blame(blame: &Blame) -> String {
    safe::plain(&blame.to_string()).into_owned()
}
