//! The format described: its JSON Schema and its reference page, both from the types that read it.

mod page;
mod schema;

pub use page::{page, page_of};
pub use schema::write as schema_of;

use crate::reader::{Shape, Table as _};
use crate::written::PlanFile;

/// The JSON Schema of the plan file, for editors, as text.
pub fn schema() -> String {
    schema::write(
        &Shape::Table(PlanFile::table()),
        "Groundrule plan",
        "A garden or residential site plan with the accuracy of everything on it.",
    )
}
