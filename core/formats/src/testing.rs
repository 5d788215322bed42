//! What tests of several readers share.

use groundrule_plan::Faults;

/// Every fault as `code [what it points to] message; help`.
pub(crate) fn lines(faults: &Faults) -> Vec<String> {
    assert!(!faults.faults.is_empty());
    let text = &faults.source.text;
    faults
        .faults
        .iter()
        .map(|fault| {
            let place = fault.labels.first().map_or("", |(span, _)| {
                let (start, end) = (span.start as usize, span.end as usize);
                text.get(start..end).expect("a span inside the file, on whole characters")
            });
            let place: String = place.chars().take(40).collect();
            let help = fault.help.as_deref().unwrap_or("no help");
            format!("{} [{place}] {}; {help}", fault.code, fault.message)
        })
        .collect()
}

/// A snapshot without the expression it came from, which would be longer than itself.
macro_rules! snapshot {
    ($value:expr $(,)?) => {
        insta::with_settings!({omit_expression => true}, { insta::assert_debug_snapshot!($value) })
    };
}
pub(crate) use snapshot;
