//! The pack file described: its JSON Schema and its reference page, both from the types that read it.

use std::fmt::Write as _;

use groundrule_plan::reader::{Shape, Table as _};
use groundrule_plan::{page_of, schema_of};

use crate::Placeholder;
use crate::formula::{FIXED, FUNCTIONS, MAX_TEXT, UNITS};
use crate::written::PackFile;

const INTRODUCTION: &str = "\
# The pack file

A pack is a text file in [TOML](https://toml.io) 1.1 that sets limits. It measures nothing: each rule names the check \
of a module that measures, says of what and to what, and gives the limit its readings are judged by, with the text it \
comes from. Everything may be commented with `#`.

A key marked **needed** must be there. A key that is not listed is an error, answered with the nearest that is.
Editors that understand `#:schema pack.schema.json` on the first line complete and check while one types.

";

/// The JSON Schema of the pack file, for editors, as text.
pub fn schema() -> String {
    schema_of(
        &Shape::Table(PackFile::table()),
        "Groundrule pack",
        "Rules with their limits, each with the text it comes from.",
    )
}

/// The reference page of the pack file, in Markdown.
pub fn page() -> String {
    let introduction = format!("{INTRODUCTION}```toml\n{}```\n\n", include_str!("../docs/example.toml"));
    let mut page = page_of(&introduction, &PackFile::table());
    formulas(&mut page);
    messages(&mut page);
    page
}

fn formulas(page: &mut String) {
    let _ = write!(
        page,
        "## Formulas\n\n\
         Formulas are written in the Common Expression Language (<https://github.com/google/cel-spec>), of which a \
         limit needs a small part: arithmetic, comparisons, `&&`, `||`, `!`, `a ? b : c`, and `in` with a list. \
         A formula has at most {MAX_TEXT} bytes, and no loops and no maps. Every number is a decimal number. Lengths, \
         areas and plain numbers do not mix: write `feet(5)`, not `5`. What is wrong with a formula is told when the \
         pack is read, before any plan is. Where a formula uses a measured amount, the error of that amount is \
         carried into the limit.\n\n\
         Besides the attributes of the kinds a rule is about (`subject.height`) and measures to (`other.spread`), \
         and the facts that the rule lists in `reading` (`reading.shared_area`), a formula can ask for:\n\n\
         | Name | Is | Meaning |\n|---|---|---|\n"
    );
    for (root, field, sort, doc) in FIXED {
        let _ = writeln!(page, "| `{root}.{field}` | {} | {doc} |", sort.words());
    }
    page.push_str("\n| Function | Gives | Meaning |\n|---|---|---|\n");
    for (name, _, sort, doc) in UNITS {
        let _ = writeln!(page, "| `{name}` | {} | {doc} |", sort.words());
    }
    for (name, gives, doc) in FUNCTIONS {
        let _ = writeln!(page, "| `{name}` | {gives} | {doc} |");
    }
    page.push('\n');
}

fn messages(page: &mut String) {
    page.push_str("## Placeholders of messages\n\n| Placeholder | What is put in its place |\n|---|---|\n");
    for place in Placeholder::ALL {
        let _ = writeln!(page, "| `{{{}}}` | {} |", place.word(), place.doc());
    }
}
