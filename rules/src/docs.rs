//! What each check says of itself, taken from its source, so that the program explains a rule offline.

struct CheckDoc {
    module: &'static str,
    check: &'static str,
    text: &'static str,
}

const DOCS: &[CheckDoc] = include!(concat!(env!("OUT_DIR"), "/docs.rs"));

/// The text of a check, in Markdown with the headings `What it measures`, `Why`, `Parameters`, `Answers` and
/// `Cautions`: `check_doc("walks", "clear-width")`. None for a check that is not built in.
pub fn check_doc(module: &str, check: &str) -> Option<&'static str> {
    DOCS.iter().find(|doc| doc.module == module && doc.check == check).map(|doc| doc.text)
}
