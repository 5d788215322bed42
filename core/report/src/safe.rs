//! Text from plans, packs and modules made harmless.

use std::borrow::Cow;
use std::fmt::Write as _;

/// Text without characters that steer a terminal or turn the reading order: control characters become
/// spaces, and so do the marks and overrides of bidirectional text, line and paragraph separators.
pub(crate) fn plain(text: &str) -> Cow<'_, str> {
    if text.chars().any(steers) {
        Cow::Owned(text.chars().map(|c| if steers(c) { ' ' } else { c }).collect())
    } else {
        Cow::Borrowed(text)
    }
}

/// JSON text with the same characters escaped inside its strings, so that nothing is lost; outside of strings
/// there are none but the line feeds between them.
pub(crate) fn json(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        if c != '\n' && steers(c) {
            let _ = write!(safe, "\\u{:04x}", u32::from(c));
        } else {
            safe.push(c);
        }
    }
    safe
}

fn steers(c: char) -> bool {
    c.is_control()
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2060}'..='\u{206f}' | '\u{feff}')
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn json_keeps_what_it_escapes() {
        let text = serde_json::to_string_pretty(&["\u{9b}é\u{202e}\u{7f}\u{1b}\n"]).unwrap();
        let safe = json(&text);
        assert_eq!(safe, "[\n  \"\\u009bé\\u202e\\u007f\\u001b\\n\"\n]");
        assert_eq!(serde_json::from_str::<Vec<String>>(&safe).unwrap(), ["\u{9b}é\u{202e}\u{7f}\u{1b}\n"]);
    }

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
