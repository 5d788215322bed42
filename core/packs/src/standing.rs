//! How much a figure can be trusted, and what may hang on it.

use groundrule_plan::reader::{Form, Read, Reader, Shape, Value, list, nearest, quote, span_of};

use crate::{Standing, Weight};

/// The codes that catalogs of rules mark their figures with, each with its standing.
/// A figure with several codes (`C/M`, `CONF-P; MEM`) has the weakest of them.
const CODES: [(&str, Standing); 10] = [
    // The figure was read: in the text named, in the publisher's own, or where an authority states it.
    ("C", Standing::PublishedStandard),
    ("CONF-P", Standing::PublishedStandard),
    ("CONF-Q", Standing::PublishedStandard),
    // It was read only in a page or a private copy that quotes the text.
    ("C2", Standing::CommonPractice),
    ("CONF-S", Standing::CommonPractice),
    // Practice of the trade: no text claimed, with an address, without one.
    ("P", Standing::CommonPractice),
    ("CP-S", Standing::CommonPractice),
    ("CP", Standing::CommonPractice),
    // Remembered, not read again.
    ("M", Standing::FromMemory),
    ("MEM", Standing::FromMemory),
];

impl Standing {
    /// Every standing, best first.
    pub const ALL: [Self; 5] = [
        Self::AdoptedLocalText,
        Self::PublishedStandard,
        Self::CommonPractice,
        Self::FromMemory,
        Self::Illustrative,
    ];

    /// The standing in words, as packs write it and reports print it.
    pub fn words(self) -> &'static str {
        match self {
            Self::AdoptedLocalText => "adopted local text",
            Self::PublishedStandard => "published standard",
            Self::CommonPractice => "common practice",
            Self::FromMemory => "from memory",
            Self::Illustrative => "illustrative",
        }
    }

    /// The standing of a text: its words, or a catalog's codes, several of which take the weakest.
    pub fn of_text(text: &str) -> Option<Self> {
        if let Some(standing) = Self::ALL.into_iter().find(|standing| standing.words() == text) {
            return Some(standing);
        }
        let codes = text
            .split(['/', ';'])
            .map(|code| CODES.iter().find(|(known, _)| *known == code.trim()).map(|(_, standing)| *standing));
        // Standings are in order, best first, so the weakest is the greatest.
        codes.collect::<Option<Vec<_>>>()?.into_iter().max()
    }

    /// The most that may hang on a figure of this standing.
    pub fn heaviest(self, invented: bool) -> Weight {
        match self {
            Self::AdoptedLocalText | Self::PublishedStandard => Weight::Required,
            Self::Illustrative if invented => Weight::Required,
            Self::CommonPractice | Self::FromMemory | Self::Illustrative => Weight::Advised,
        }
    }
}

impl Weight {
    /// The weight as packs write it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Required => "required",
            Self::Advised => "advised",
            Self::Noted => "noted",
        }
    }
}

groundrule_plan::words! {
    Weight {
        "required" => Weight::Required, "Must be met.";
        "advised" => Weight::Advised, "Advice; the report says so, and nothing hangs on it.";
        "noted" => Weight::Noted, "Told, nothing more.";
    }
}

impl Read for Standing {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "standing",
            doc: "How much the figure can be trusted, best first: `adopted local text`, `published standard`, \
                  `common practice`, `from memory`, `illustrative`. The codes of a catalog are read too: `C`, \
                  `CONF-P` and `CONF-Q` stand for a published standard, `C2`, `P`, `CONF-S`, `CP-S` and `CP` for \
                  common practice, `M` and `MEM` for memory; of several, as in `C/M`, the weakest counts. Only \
                  adopted and published text can be required; an illustrative row can be, but only in a pack \
                  whose place is invented.",
            example: "\"published standard\"",
            of: Box::new(Shape::Text("published standard")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        if let Some(standing) = Self::of_text(text) {
            return Some(standing);
        }
        let words = || Self::ALL.into_iter().map(Self::words);
        let near = nearest(text, words()).map(|near| format!("Did you mean `{near}`? "));
        let help = format!("{}It is one of {}.", near.unwrap_or_default(), list(words()));
        reader.fault_help(
            "pack::standing",
            format!("{} is no standing.", quote(text)),
            span_of(value),
            "not known",
            help,
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn codes_and_words() {
        let check =
            |text: &str, expected: Option<Standing>| assert_eq!(Standing::of_text(text), expected, "{text}");
        check("adopted local text", Some(Standing::AdoptedLocalText));
        check("CONF-P", Some(Standing::PublishedStandard));
        check("CONF-Q/S", None);
        check("C/M", Some(Standing::FromMemory));
        check("CONF-P; MEM", Some(Standing::FromMemory));
        check("CP-S", Some(Standing::CommonPractice));
        check("C/P", Some(Standing::CommonPractice));
        check("", None);
        check("c", None);
        for standing in Standing::ALL {
            check(standing.words(), Some(standing));
        }
    }

    #[test]
    fn only_text_that_was_read_can_require() {
        let check =
            |standing: Standing, invented, expected| assert_eq!(standing.heaviest(invented), expected);
        check(Standing::AdoptedLocalText, false, Weight::Required);
        check(Standing::PublishedStandard, false, Weight::Required);
        check(Standing::CommonPractice, true, Weight::Advised);
        check(Standing::FromMemory, true, Weight::Advised);
        check(Standing::Illustrative, false, Weight::Advised);
        check(Standing::Illustrative, true, Weight::Required);
    }
}
