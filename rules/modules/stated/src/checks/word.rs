use groundrule_kit::{Check, Ground, Info, Need, ParameterInfo, Reading, Refusal};

use crate::names::{needed, plain, several};

/// Stated word: whether a fact in words is one of those a rule asks for.
///
/// # What it measures
/// Whether the fact named by `name` is one of `words`, whatever its capitals.
///
/// # Why
/// Some rules hang on a choice and not on a figure: which way a gate swings, what a wall is built of.
///
/// # Parameters
/// - `name`: the fact, by its name in the plan: `swing`. Needed.
/// - `words`: the words that meet. Needed.
///
/// # Answers
/// Yes or no for each subject, with the fact `said`. Lacking when it is not stated.
///
/// # Cautions
/// It says what the plan states; look at the thing itself before relying on it.
pub struct Word;

const NAME: ParameterInfo =
    ParameterInfo { name: "name", summary: "The fact in words, by its name in the plan; needed." };
const WORDS: ParameterInfo = ParameterInfo { name: "words", summary: "The words that meet; needed." };

impl Check for Word {
    const INFO: Info = Info {
        name: "word",
        summary: "Whether a fact in words is one of those asked for.",
        dimension: None,
        parameters: &[NAME, WORDS],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let name = needed(ground, NAME.name, "the name of a fact in words, such as \"swing\"")?;
        let words = several(ground, WORDS.name, "the words that meet, such as [\"out\", \"slide\"]")?;
        let subjects = ground.subjects();
        let said = ground.texts(&subjects, &name);
        let labels = ground.labels(&subjects);
        let one = |((subject, said), label): ((_, Option<String>), String)| match said {
            Some(said) => {
                let meets = words.iter().any(|word| word.eq_ignore_ascii_case(said.trim()));
                Reading::truth(subject, meets).text("said", said)
            }
            None => Reading::lacking(
                subject,
                Need::new(
                    format!("{} of {label}", plain(&name)),
                    format!("state it as `{name}`; the rule looks for {}", words.join(" or ")),
                ),
            ),
        };
        Ok(subjects.into_iter().zip(said).zip(labels).map(one).collect())
    }
}
