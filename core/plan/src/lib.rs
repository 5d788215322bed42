//! The plan file: TOML to a typed [`Plan`] with the place of everything in its file.
//!
//! This crate reads text and gives either a whole plan or every fault in it, each pointing into the file.
//! It touches no file itself, resolves no geometry and knows no rule.

mod checks;
mod fault;
mod format;
mod kinds;
mod model;
pub mod reader;
mod remarks;
mod report;
mod visit;
mod written;

pub use fault::{Fault, Faults, Gravity, Remark, Source, Span};
pub use format::{page, page_of, schema, schema_of};
pub use kinds::{AttributeDoc, AttributeKind, Kind, KindTables, KindTree, Subject};
pub use model::*;
pub use report::FaultReport;

use groundrule_units::SheetUnit;
use reader::{Keys, Read as _, Reader, Table as _, Value, read_tree};
use written::PlanFile;

/// Reads a plan from TOML text, with the standard kinds.
pub fn read_plan(source: &Source) -> Result<Plan, Faults> {
    read_plan_with(source, &KindTree::standard())
}

/// Reads a plan from TOML text, with the standard kinds and any that packs add.
pub fn read_plan_with(source: &Source, kinds: &KindTree) -> Result<Plan, Faults> {
    let mut reader = Reader::new(kinds);
    let plan = read(source, &mut reader);
    match plan.filter(|_| reader.is_clean()) {
        Some(plan) => Ok(plan),
        None => Err(Faults { source: source.clone(), faults: reader.into_faults() }),
    }
}

/// What a file with nothing in it is answered.
const EMPTY: &str = "A plan needs at least `[site]` with a `name` and its `units`, and what stands there: `[lot]` and \
                     `[[feature]]`. `groundrule begin` writes a plan to start from.";

fn read(source: &Source, reader: &mut Reader<'_>) -> Option<Plan> {
    let value = read_tree(source, EMPTY, reader)?;
    let mut keys = Keys::of(&value)?;
    // Bare numbers anywhere in the file take the unit of the site, so it is looked up first. When it is not there that
    // is a fault of its own; feet then keep every number from being one as well.
    reader.units = Some(units(&keys).unwrap_or(SheetUnit::Feet));
    let file = PlanFile::read_keys(&mut keys, reader);
    keys.refuse_rest::<PlanFile>(reader);
    let mut draft = file.draft(source, reader);
    if !reader.is_torn() {
        checks::check(&mut draft, reader);
    }
    let mut plan = draft.plan;
    written::usual::take_in(&mut plan);
    if reader.is_clean() {
        remarks::remark(&mut plan, reader);
    }
    Some(plan)
}

fn units(keys: &Keys<'_, '_>) -> Option<SheetUnit> {
    let value: &Value<'_> = keys.peek("site")?.get_ref().as_table()?.get("units")?;
    // A wrong word is told when the section itself is read.
    SheetUnit::read(value, &mut Reader::new(&KindTree::default()))
}
