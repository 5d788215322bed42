//! Lines of a given width, wrapped and styled.

use std::fmt::Write as _;

use anstyle::{AnsiColor, Style};
use groundrule_packs::Weight;
use groundrule_review::{Finding, Verdict};
use textwrap::core::display_width;

use crate::safe;

/// Strong words.
pub(crate) const STRONG: Style = Style::new().bold();
/// What is only for those who look closer.
pub(crate) const FAINT: Style = Style::new().dimmed();
/// What does not hold.
pub(crate) const BAD: Style = AnsiColor::Red.on_default().bold();
/// What is open.
pub(crate) const OPEN: Style = AnsiColor::Yellow.on_default().bold();
/// What lacks data.
pub(crate) const LACKING: Style = AnsiColor::Magenta.on_default().bold();
/// What holds.
pub(crate) const GOOD: Style = AnsiColor::Green.on_default();

/// The style of a finding's verdict; its word is always beside it.
pub(crate) fn of(finding: &Finding) -> Style {
    match finding.verdict {
        Verdict::Fails if finding.weight == Weight::Required => BAD,
        Verdict::Fails | Verdict::Verify => OPEN,
        Verdict::Missing => LACKING,
        Verdict::Meets | Verdict::Accepted => GOOD,
        Verdict::NotApplicable => FAINT,
    }
}

/// How wide the name of a field is, with the room behind it.
const FIELD: usize = 10;

/// Text being laid out.
pub(crate) struct Page {
    text: String,
    width: usize,
}

impl Page {
    /// An empty page; what is narrower than 40 columns is laid out for 40, and lines are never over 160.
    pub(crate) fn new(width: usize) -> Self {
        Self { text: String::new(), width: width.clamp(40, 160) }
    }

    /// How many columns there are.
    pub(crate) fn width(&self) -> usize {
        self.width
    }

    /// An empty line.
    pub(crate) fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A heading.
    pub(crate) fn heading(&mut self, text: &str) {
        self.paragraph(0, text, STRONG);
    }

    /// Words wrapped to the width, each line after so many columns.
    pub(crate) fn paragraph(&mut self, indent: usize, text: &str, style: Style) {
        let text = safe::plain(text);
        for line in textwrap::wrap(&text, self.width.saturating_sub(indent).max(20)) {
            self.line(indent, &[(&line, style)]);
        }
    }

    /// A word in its style, and text beside it that hangs under its own beginning.
    pub(crate) fn hanging(&mut self, indent: usize, word: &str, style: Style, text: &str) {
        let text = safe::plain(text);
        let inner = indent + display_width(word) + 2;
        for (i, line) in textwrap::wrap(&text, self.width.saturating_sub(inner).max(20)).iter().enumerate() {
            let word = if i == 0 { word.to_owned() } else { " ".repeat(display_width(word)) };
            self.line(indent, &[(&word, style), ("  ", Style::new()), (line, Style::new())]);
        }
    }

    /// A named piece of text, wrapped beside its name.
    pub(crate) fn field(&mut self, indent: usize, name: &str, text: &str) {
        if text.is_empty() {
            return;
        }
        let text = safe::plain(text);
        let room = self.width.saturating_sub(indent + FIELD).max(20);
        for (i, line) in textwrap::wrap(&text, room).iter().enumerate() {
            let name = if i == 0 { name } else { "" };
            self.line(indent, &[(&pad(name, FIELD), FAINT), (line, Style::new())]);
        }
    }

    /// One row of a table, each cell wrapped to the width of its column, two spaces between columns.
    pub(crate) fn columns(&mut self, indent: usize, widths: &[usize], cells: &[&str], style: Style) {
        let wrapped: Vec<Vec<String>> = widths
            .iter()
            .zip(cells)
            .map(|(width, cell)| {
                let cell = safe::plain(cell);
                textwrap::wrap(&cell, *width).into_iter().map(std::borrow::Cow::into_owned).collect()
            })
            .collect();
        for row in 0..wrapped.iter().map(Vec::len).max().unwrap_or(0) {
            let cell = |(width, lines): (&usize, &Vec<String>)| pad(lines.get(row).map_or("", |l| l), *width);
            let cells: Vec<String> = widths.iter().zip(&wrapped).map(cell).collect();
            self.line(indent, &[(&cells.join("  "), style)]);
        }
    }

    /// Pieces of one line, each in its style. What they say must already be safe and short enough.
    pub(crate) fn line(&mut self, indent: usize, pieces: &[(&str, Style)]) {
        let last = pieces.iter().rposition(|(text, _)| !text.trim_end().is_empty());
        let pieces = pieces.get(..last.map_or(0, |last| last + 1)).unwrap_or_default();
        if !pieces.is_empty() {
            self.text.push_str(&" ".repeat(indent));
        }
        for (i, (text, style)) in pieces.iter().enumerate() {
            let text = if i + 1 == pieces.len() { text.trim_end() } else { text };
            if *style == Style::new() || text.trim().is_empty() {
                self.text.push_str(text);
            } else {
                let _ = write!(self.text, "{style}{text}{style:#}");
            }
        }
        self.text.push('\n');
    }

    /// Everything on a page of the same width, after what is on this one.
    pub(crate) fn append(&mut self, other: &Self) {
        self.text.push_str(&other.text);
    }

    /// The whole text.
    pub(crate) fn finish(self) -> String {
        self.text
    }
}

/// Text with spaces behind it up to a width, and at least one where it is followed by more.
pub(crate) fn pad(text: &str, width: usize) -> String {
    format!("{text}{}", " ".repeat(width.saturating_sub(display_width(text))))
}

/// Text with spaces before it up to a width.
pub(crate) fn pad_left(text: &str, width: usize) -> String {
    format!("{}{text}", " ".repeat(width.saturating_sub(display_width(text))))
}

/// Text cut to a width, with a mark where something is gone.
pub(crate) fn cut(text: &str, width: usize) -> String {
    if display_width(text) <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    for c in text.chars() {
        if display_width(&kept) + 2 > width {
            break;
        }
        kept.push(c);
    }
    format!("{}…", kept.trim_end())
}
