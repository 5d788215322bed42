//! Figures that a row gives for kinds and surfaces: `["structure 0.95", "drive 0.85", "ground 0.20"]`.

use groundrule_kit::{Feature, Ground, Refusal, Value};

use crate::one::{number, text};

/// The word for ground that nothing else covers.
const GROUND: &str = "ground";

/// A figure for each word, in the row's order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Figures(Vec<(String, f64)>);

impl Figures {
    /// What the row gives; nothing when it gives nothing.
    pub(crate) fn read<G: Ground>(ground: &G, parameter: &str) -> Result<Self, Refusal> {
        let texts = match ground.parameter(parameter) {
            None => Vec::new(),
            Some(Value::Text(text)) => vec![text],
            Some(Value::Texts(texts)) => texts,
            Some(other) => return Err(wrong(parameter, other.sort())),
        };
        let one = |text: &String| {
            let (word, figure) = text.trim().rsplit_once(' ').unzip();
            let figure = figure.and_then(|figure| figure.parse::<f64>().ok());
            match (word, figure.filter(|figure| figure.is_finite() && *figure >= 0.0)) {
                (Some(word), Some(figure)) => Ok((word.trim().to_owned(), figure)),
                _ => Err(wrong(parameter, &format!("\"{text}\""))),
            }
        };
        Ok(Self(texts.iter().map(one).collect::<Result<_, _>>()?))
    }

    /// The figure of ground that nothing else covers.
    pub(crate) fn of_ground(&self) -> Option<f64> {
        self.of_word(GROUND)
    }

    /// The figure of a feature: what it states under `fact`, or what the row gives for its surface, or for its kind.
    pub(crate) fn of<G: Ground>(&self, ground: &G, feature: Feature, fact: &str) -> Option<f64> {
        if let Some(stated) = number(ground, feature, fact) {
            return Some(stated);
        }
        if let Some(figure) =
            text(ground, feature, "surface").and_then(|surface| self.of_word(surface.trim()))
        {
            return Some(figure);
        }
        let of_kind = |(word, _): &&(String, f64)| ground.is_a(&[feature], word) == [true];
        self.0.iter().find(of_kind).map(|(_, figure)| *figure)
    }

    fn of_word(&self, word: &str) -> Option<f64> {
        self.0.iter().find(|(known, _)| known.eq_ignore_ascii_case(word)).map(|(_, figure)| *figure)
    }
}

fn wrong(parameter: &str, given: &str) -> Refusal {
    Refusal::new(format!(
        "parameter `{parameter}` is {given}; give a list of kinds or surfaces, each with its figure, such as \
         [\"structure 0.95\", \"ground 0.20\"]"
    ))
}
