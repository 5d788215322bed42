//! Making text from a module harmless before a terminal or a page sees it.

/// The text with everything taken out that acts instead of being read: control characters and with them
/// every terminal escape, marks that turn the direction of writing, and characters without width.
///
/// Line breaks and tabs become spaces. Markup stays as written; a page must escape it, as all other text.
pub fn neutral(text: &str) -> String {
    text.chars()
        .filter_map(|letter| match letter {
            '\n' | '\r' | '\t' | '\u{85}' | '\u{2028}' | '\u{2029}' => Some(' '),
            _ if letter.is_control() || acts(letter) => None,
            _ => Some(letter),
        })
        .collect()
}

/// Format characters of Unicode (general category Cf) that change what is seen around them, and the tag
/// and annotation characters that hide text.
fn acts(letter: char) -> bool {
    matches!(letter,
        '\u{ad}' | '\u{61c}' | '\u{180e}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{feff}' | '\u{fff9}'..='\u{fffb}' | '\u{e0000}'..='\u{e007f}')
}

/// The beginning of a text that fits in so many bytes, cut between letters.
pub(crate) fn cut(text: &str, bytes: usize) -> &str {
    if text.len() <= bytes {
        return text;
    }
    let end = (0..=bytes).rev().find(|&i| text.is_char_boundary(i)).unwrap_or(0);
    text.get(..end).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::{cut, neutral};

    #[test]
    fn text_that_acts_becomes_text_that_is_read() {
        let check = |input: &str, expected: &str| assert_eq!(neutral(input), expected, "{input:?}");
        check("12' 6\" to the rear line", "12' 6\" to the rear line");
        check("Größe, ½ in, 120°", "Größe, ½ in, 120°");
        // ECMA-48: colour, clear screen; and a title set by an operating system command.
        check("\u{1b}[31mred\u{1b}[0m \u{1b}[2J", "[31mred[0m [2J");
        check("\u{1b}]0;title\u{7}", "]0;title");
        // The same begun by the single C1 character.
        check("\u{9b}31mred", "31mred");
        check("a\nb\r\nc\td", "a b  c d");
        check("nul\0 bell\u{7} back\u{8} del\u{7f}", "nul bell back del");
        // Unicode Standard Annex 9: override and isolates.
        check("\u{202e}txt.exe\u{2066}x\u{2069}", "txt.exex");
        check("zero\u{200b}width\u{feff}", "zerowidth");
        check("<b>bold</b> & <script>", "<b>bold</b> & <script>");
    }

    #[test]
    fn a_cut_never_splits_a_letter() {
        let check = |input: &str, bytes: usize, expected: &str| assert_eq!(cut(input, bytes), expected);
        check("gate", 10, "gate");
        check("gate", 4, "gate");
        check("gate", 2, "ga");
        check("½ in", 1, "");
        check("½ in", 2, "½");
        check("", 0, "");
    }
}
