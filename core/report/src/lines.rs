//! Lines and columns of places in the plan file, found quickly for many places.

use groundrule_plan::{Source, Span};

/// Where the lines of a file begin.
pub(crate) struct Lines<'a> {
    text: &'a str,
    starts: Vec<usize>,
}

impl<'a> Lines<'a> {
    pub(crate) fn of(source: &'a Source) -> Self {
        let text: &str = &source.text;
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        Self { text, starts }
    }

    /// Line and column, from 1, columns counting characters; none for what no file says.
    pub(crate) fn find(&self, span: Span) -> Option<(u32, u32)> {
        if span == Span::default() {
            return None;
        }
        let at = self.text.len().min(span.start as usize);
        let line = self.starts.partition_point(|start| *start <= at);
        let start = *self.starts.get(line.checked_sub(1)?)?;
        let column = self.text.get(start..at)?.chars().count() + 1;
        Some((u32::try_from(line).ok()?, u32::try_from(column).ok()?))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn agrees_with_the_source() {
        let source = Source { name: "a.toml".to_owned(), text: "é1\n\nab\ncé d".into() };
        let lines = Lines::of(&source);
        for (at, _) in source.text.char_indices() {
            let at = u32::try_from(at).unwrap();
            let (line, column) = source.position(at);
            let found = lines.find(Span { start: at, end: at + 1 });
            assert_eq!(found.map(|(l, c)| (l as usize, c as usize)), Some((line, column)), "{at}");
        }
        assert_eq!(lines.find(Span::default()), None);
        assert_eq!(lines.find(Span { start: 1, end: 2 }), None, "inside a character");
    }
}
