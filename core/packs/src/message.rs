//! Messages with placeholders: what a row says when it is not met.

use std::ops::Range;

/// What may stand between braces in a row's message.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Placeholder {
    /// `{subject}`: what the plan calls the thing the row is about.
    Subject,
    /// `{other}`: what it was measured to.
    Other,
    /// `{shown}`: what was measured, with its plus-or-minus.
    Shown,
    /// `{limit}`: what the row asks for, as its source prints it.
    Limit,
    /// `{short}`: how far what was measured is from the limit, without a sign.
    Short,
    /// `{lack}`: what is lacking to judge it.
    Lack,
}

impl Placeholder {
    /// Every placeholder.
    pub const ALL: [Self; 6] =
        [Self::Subject, Self::Other, Self::Shown, Self::Limit, Self::Short, Self::Lack];

    /// The word between the braces.
    pub fn word(self) -> &'static str {
        match self {
            Self::Subject => "subject",
            Self::Other => "other",
            Self::Shown => "shown",
            Self::Limit => "limit",
            Self::Short => "short",
            Self::Lack => "lack",
        }
    }

    /// What is put in its place.
    pub fn doc(self) -> &'static str {
        match self {
            Self::Subject => "what the plan calls the thing the rule is about",
            Self::Other => "what it was measured to",
            Self::Shown => "what was measured, with its plus-or-minus",
            Self::Limit => "what the rule asks for, as its source prints it",
            Self::Short => "how far what was measured is from the limit",
            Self::Lack => "what is lacking to judge it",
        }
    }
}

/// A piece of a message.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Piece<'a> {
    /// Words to be kept.
    Words(&'a str),
    /// A placeholder.
    Place(Placeholder),
    /// A brace that opens or closes nothing, or an unknown word between braces.
    Wrong(Range<usize>, &'a str),
}

/// A message in pieces, in order.
pub(crate) fn pieces(message: &str) -> Vec<Piece<'_>> {
    let mut pieces = Vec::new();
    let mut at = 0;
    while let Some(open) = message[at..].find(['{', '}']).map(|found| at + found) {
        if open > at {
            pieces.push(Piece::Words(&message[at..open]));
        }
        let close = message[open..].find('}').map(|found| open + found);
        let (word, end) = match close {
            Some(close) if close > open => (&message[open + 1..close], close + 1),
            _ => ("", open + 1),
        };
        let known = Placeholder::ALL.into_iter().find(|place| place.word() == word);
        pieces.push(known.map_or(Piece::Wrong(open..end, word), Piece::Place));
        at = end;
    }
    if at < message.len() {
        pieces.push(Piece::Words(&message[at..]));
    }
    pieces
}

/// The message with each placeholder replaced by what `fill` gives for it.
pub fn fill_message(message: &str, fill: impl Fn(Placeholder) -> String) -> String {
    let filled = pieces(message).into_iter().map(|piece| match piece {
        Piece::Words(words) => words.to_owned(),
        Piece::Place(place) => fill(place),
        Piece::Wrong(range, _) => message.get(range).unwrap_or_default().to_owned(),
    });
    filled.collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn placeholders_are_filled_and_the_rest_kept() {
        let check = |message: &str, expected: &str| {
            assert_eq!(fill_message(message, |place| place.word().to_uppercase()), expected, "{message}");
        };
        check("", "");
        check("No place here.", "No place here.");
        check("{subject} stands {shown} off; {limit}.", "SUBJECT stands SHOWN off; LIMIT.");
        check("é{other}é", "éOTHERé");
        check("{", "{");
        check("}{short}", "}SHORT");
        check("{ shown }", "{ shown }");
        check("{{lack}}", "{{lack}}");
    }

    #[test]
    fn wrong_places_are_found() {
        let check = |message: &str, expected: &[(usize, usize)]| {
            let wrong = pieces(message).into_iter().filter_map(|piece| match piece {
                Piece::Wrong(range, _) => Some((range.start, range.end)),
                _ => None,
            });
            assert_eq!(wrong.collect::<Vec<_>>(), expected, "{message}");
        };
        check("{subject} {shwon}", &[(10, 17)]);
        check("a } b {", &[(2, 3), (6, 7)]);
    }
}
