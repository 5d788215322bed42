//! What a reader assumed, said aloud.

use groundrule_plan::{Gravity, Name, Remark, Span};

/// A remark on data that has no place of its own on the plan.
pub(crate) fn remark(
    code: &'static str,
    gravity: Gravity,
    message: String,
    about: Vec<Name>,
    help: Option<&str>,
) -> Remark {
    Remark {
        code,
        gravity,
        message,
        about,
        spots: Vec::new(),
        span: Span::default(),
        help: help.map(str::to_owned),
    }
}

/// `1 lot`, `12 lots`.
pub(crate) fn count(number: usize, noun: &str) -> String {
    if number == 1 { format!("1 {noun}") } else { format!("{number} {noun}s") }
}
