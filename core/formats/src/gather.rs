//! Collecting everything wrong with a file before giving up on it.

use groundrule_plan::{Fault, Faults, Source, Span};

/// A broken export is broken a million times in the same way; so many faults are shown.
const MOST: usize = 50;

/// Faults of one file, in the order they were found.
pub(crate) struct Gather<'a> {
    source: &'a Source,
    faults: Vec<Fault>,
    beyond: usize,
}

impl<'a> Gather<'a> {
    pub(crate) fn new(source: &'a Source) -> Self {
        Self { source, faults: Vec::new(), beyond: 0 }
    }

    pub(crate) fn source(&self) -> &'a Source {
        self.source
    }

    /// Notes a fault: what is wrong, where, what to say beside the place, and what to do.
    pub(crate) fn add(
        &mut self,
        code: &'static str,
        message: impl Into<String>,
        (span, label): (Span, &str),
        help: impl Into<String>,
    ) {
        if self.faults.len() >= MOST {
            self.beyond += 1;
            return;
        }
        self.faults.push(Fault {
            code,
            message: message.into(),
            labels: vec![(span, label.to_owned())],
            help: Some(help.into()),
        });
    }

    pub(crate) fn is_empty(&self) -> bool {
        self.faults.is_empty()
    }

    /// All of them; call only after something was added.
    pub(crate) fn into_faults(mut self) -> Faults {
        if self.beyond > 0 {
            self.faults.push(Fault {
                code: "formats::more",
                message: format!("and {} more like these", self.beyond),
                labels: Vec::new(),
                help: Some("mend the ones above first; most files repeat one mistake".to_owned()),
            });
        }
        Faults { source: self.source.clone(), faults: self.faults }
    }

    /// The value, if nothing was wrong.
    pub(crate) fn finish<T>(self, value: T) -> Result<T, Faults> {
        if self.is_empty() { Ok(value) } else { Err(self.into_faults()) }
    }
}

/// A range of bytes as a span; files beyond 4 GiB point at their end.
pub(crate) fn span(range: std::ops::Range<usize>) -> Span {
    let clip = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    Span { start: clip(range.start), end: clip(range.end) }
}
