//! Rule packs: which check is asked of which features, against which limit, on whose authority.
//!
//! A pack holds no geometry and no verdict. Every limit knows the file and line that set it.

mod explain;
mod format;
mod formula;
mod message;
mod model;
mod read;
mod selector;
mod standing;
mod written;

pub use explain::Explained;
pub use format::{page, schema};
pub use formula::{Facts, Formula, FormulaError};
pub use message::{Placeholder, fill_message};
pub use model::*;
pub use read::read_pack;
pub use selector::{Classed, role_word};
