//! Text from plans, packs and modules made harmless.

use std::borrow::Cow;

/// Text without characters that steer a terminal or turn the reading order: control characters become
/// spaces, and so do the marks and overrides of bidirectional text, line and paragraph separators.
pub(crate) fn plain(text: &str) -> Cow<'_, str> {
    if text.chars().any(steers) {
        Cow::Owned(text.chars().map(|c| if steers(c) { ' ' } else { c }).collect())
    } else {
        Cow::Borrowed(text)
    }
}

fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_steers() {
        let check = |text: &str, expected: &str| assert_eq!(plain(text), expected);
        check("shed", "shed");
        check("\u{1b}[31mred\u{7}\r\n", " [31mred   ");
        check("\u{202e}dehs\u{2066}", " dehs ");
        check("\u{9b}2J", " 2J");
        check("12'-4 1/2\" ± 1\" é 庭", "12'-4 1/2\" ± 1\" é 庭");
    }
}
