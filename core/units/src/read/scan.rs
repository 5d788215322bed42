//! A cursor over one short text.

/// What is left of a text; copied to look ahead.
#[derive(Clone, Copy, Debug)]
pub(super) struct Scan<'a> {
    /// The whole of it.
    pub(super) text: &'a str,
    /// What has not been taken yet.
    pub(super) rest: &'a str,
}

impl<'a> Scan<'a> {
    pub(super) fn new(text: &'a str) -> Self {
        Self { text, rest: text }
    }

    pub(super) fn is_done(&self) -> bool {
        self.rest.is_empty()
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.rest.chars().next()
    }

    /// What has been taken so far.
    pub(super) fn taken(&self) -> &'a str {
        self.text.strip_suffix(self.rest).unwrap_or_default()
    }

    pub(super) fn skip_spaces(&mut self) {
        self.rest = self.rest.trim_start();
    }

    /// Takes this character if it comes next.
    pub(super) fn take(&mut self, c: char) -> bool {
        match self.rest.strip_prefix(c) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// Takes as many characters as satisfy the test.
    pub(super) fn take_while(&mut self, test: impl Fn(char) -> bool) -> &'a str {
        let end = self.rest.find(|c| !test(c)).unwrap_or(self.rest.len());
        let (taken, rest) = self.rest.split_at(end);
        self.rest = rest;
        taken
    }

    /// Takes a leading sign: -1 for minus, else 1.
    pub(super) fn take_sign(&mut self) -> f64 {
        let sign = if self.take('-') {
            -1.0
        } else {
            self.take('+');
            1.0
        };
        self.skip_spaces();
        sign
    }

    /// Takes the longest of the words that comes next, in any case, with a full stop that abbreviates it.
    ///
    /// A word of letters must end where the letters end: `m` is not taken from `mm`, nor from `m²`.
    pub(super) fn take_word<T: Copy>(&mut self, words: &[(&str, T)]) -> Option<T> {
        let (length, meaning) = words
            .iter()
            .filter(|(word, _)| starts_with_word(self.rest, word))
            .map(|(word, meaning)| (word.len(), *meaning))
            .max_by_key(|(length, _)| *length)?;
        self.rest = &self.rest[length..];
        if self.taken().ends_with(char::is_alphabetic) {
            self.take('.');
        }
        Some(meaning)
    }
}

fn starts_with_word(text: &str, word: &str) -> bool {
    let Some(start) = text.get(..word.len()) else { return false };
    let next = text[word.len()..].chars().next();
    let ends = match next {
        Some(c) => !word.ends_with(char::is_alphabetic) || !(c.is_alphabetic() || "²³".contains(c)),
        None => true,
    };
    ends && start.eq_ignore_ascii_case(word)
}

/// The text with one spelling for each sign that has several: quotes and primes, dashes, plus-or-minus.
pub(super) fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for c in text.trim().chars() {
        plain.push(match c {
            '’' | '‘' | '′' | '´' | '`' => '\'',
            '”' | '“' | '″' => '"',
            '−' | '–' | '—' | '‐' | '‑' => '-',
            '⁄' | '∕' => '/',
            'º' | '˚' => '°',
            '≈' | '∼' | '≃' => '~',
            '∆' | 'δ' => 'Δ',
            c if c.is_whitespace() => ' ',
            c => c,
        });
    }
    plain.replace("''", "\"").replace("+/-", "±").replace("+-", "±")
}
