//! Faults as text: plainly, and as diagnostics that a renderer can draw with snippets of the file.

use std::fmt;

use miette::{
    Diagnostic, LabeledSpan, MietteError, MietteSpanContents, SourceCode, SourceSpan, SpanContents,
};

use crate::{Fault, Faults, Source, Span};

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Fault {}

impl Diagnostic for Fault {
    fn code<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        Some(Box::new(self.code))
    }

    fn help<'a>(&'a self) -> Option<Box<dyn fmt::Display + 'a>> {
        self.help.as_ref().map(|help| Box::new(help) as Box<dyn fmt::Display>)
    }

    fn labels(&self) -> Option<Box<dyn Iterator<Item = LabeledSpan> + '_>> {
        let label = |(i, (span, beside)): (usize, &(Span, String))| {
            let span = SourceSpan::from(*span);
            let beside = Some(beside.clone()).filter(|beside| !beside.is_empty());
            if i == 0 {
                LabeledSpan::new_primary_with_span(beside, span)
            } else {
                LabeledSpan::new_with_span(beside, span)
            }
        };
        Some(Box::new(self.labels.iter().enumerate().map(label)))
    }
}

/// The file's name, line and column, the message and the help of each fault, without snippets.
impl fmt::Display for Faults {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut lines = Lines { text: &self.source.text, byte: 0, line: 1 };
        for (i, fault) in self.faults.iter().enumerate() {
            if i > 0 {
                writeln!(f)?;
            }
            write!(f, "{}", self.source.name)?;
            if let Some((span, _)) = fault.labels.first() {
                let (line, column) = lines.position(span.start);
                write!(f, ":{line}:{column}")?;
            }
            write!(f, ": {}", fault.message)?;
            if let Some(help) = &fault.help {
                write!(f, "\n    {help}")?;
            }
        }
        Ok(())
    }
}

/// Counts lines onward from one place to the next, so that many faults in a long file are told in one pass.
struct Lines<'t> {
    text: &'t str,
    byte: usize,
    line: usize,
}

impl Lines<'_> {
    /// The line and column of a byte, both from 1.
    fn position(&mut self, byte: u32) -> (usize, usize) {
        let byte = self.text.floor_char_boundary(byte as usize);
        if byte < self.byte {
            (self.byte, self.line) = (0, 1);
        }
        let passed = self.text.get(self.byte..byte).unwrap_or_default();
        self.line += passed.bytes().filter(|byte| *byte == b'\n').count();
        self.byte = byte;
        let before = self.text.get(..byte).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |newline| newline + 1);
        (self.line, before.get(line_start..).unwrap_or_default().chars().count() + 1)
    }
}

impl Source {
    /// The line and column of a byte, both from 1; columns count characters.
    pub fn position(&self, byte: u32) -> (usize, usize) {
        Lines { text: &self.text, byte: 0, line: 1 }.position(byte)
    }
}

impl std::error::Error for Faults {}

/// The faults as diagnostics over one file.
///
/// [`Faults::report`] gives the same faults under one heading; this is that heading.
#[derive(Debug)]
pub struct FaultReport<'a> {
    faults: &'a Faults,
}

impl Faults {
    /// One diagnostic for the whole file, each fault related to it and drawn from the same text.
    pub fn report(&self) -> FaultReport<'_> {
        FaultReport { faults: self }
    }
}

impl fmt::Display for FaultReport<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let name = &self.faults.source.name;
        match self.faults.faults.len() {
            1 => write!(f, "{name} cannot be used: one thing is wrong with it."),
            many => write!(f, "{name} cannot be used: {many} things are wrong with it."),
        }
    }
}

impl std::error::Error for FaultReport<'_> {}

impl Diagnostic for FaultReport<'_> {
    fn source_code(&self) -> Option<&dyn SourceCode> {
        Some(&self.faults.source)
    }

    fn related<'a>(&'a self) -> Option<Box<dyn Iterator<Item = &'a dyn Diagnostic> + 'a>> {
        Some(Box::new(self.faults.faults.iter().map(|fault| fault as &dyn Diagnostic)))
    }
}

impl SourceCode for Source {
    fn read_span<'a>(
        &'a self,
        span: &SourceSpan,
        lines_before: usize,
        lines_after: usize,
    ) -> Result<Box<dyn SpanContents<'a> + 'a>, MietteError> {
        let inner = self.text.as_ref().read_span(span, lines_before, lines_after)?;
        Ok(Box::new(MietteSpanContents::new_named(
            self.name.clone(),
            inner.data(),
            *inner.span(),
            inner.line(),
            inner.column(),
            inner.line_count(),
        )))
    }
}

impl From<Span> for SourceSpan {
    fn from(span: Span) -> Self {
        let length = span.end.saturating_sub(span.start) as usize;
        Self::new((span.start as usize).into(), length)
    }
}
