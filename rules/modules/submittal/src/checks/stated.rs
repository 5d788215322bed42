use groundrule_kit::{Answer, Check, Feature, Ground, Info, Need, Reading, Refusal, Value};

use crate::lacking::{choices, keys, words};
use crate::parameters::Parameter;

/// Stated: whether the subject states what the row asks for.
///
/// # What it measures
/// Nothing: it looks for stated facts of the subject, which is mostly the sheet with what stands under `[sheet]`.
///
/// # Why
/// A figure that is not on the sheet is asked for by letter, and the application waits.
///
/// # Parameters
/// - `facts`: the facts by name, each of which must be stated; `"address or parcel"` leaves the choice. `declared.wells`
///   is what `[declared]` says of wells.
/// - `called`: what to call it where it is lacking.
/// - `how`: what to do then.
/// - `no_counts`: `true` where a stated no is as good an answer as a yes. Otherwise a no says that it is not there.
///
/// # Answers
/// Yes for each subject that states all of it. Lacking what it does not state.
///
/// # Cautions
/// What is stated is not looked at: whether an address is right, or a seal valid, is for whoever keeps the record.
pub struct Stated;

const FACTS: Parameter = Parameter::new("facts", "The facts that must be stated.");
const CALLED: Parameter = Parameter::new("called", "What to call them where they are lacking.");
const HOW: Parameter = Parameter::new("how", "What to do where they are lacking.");
const NO_COUNTS: Parameter = Parameter::new("no_counts", "Whether a stated no is an answer.");

impl Check for Stated {
    const INFO: Info = Info {
        name: "stated",
        summary: "Whether the subject states what the row asks for.",
        dimension: None,
        parameters: &[FACTS.info(), CALLED.info(), HOW.info(), NO_COUNTS.info()],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let facts = FACTS.texts(ground)?;
        if facts.is_empty() {
            return Err(FACTS.needed("the names of facts, such as [\"scale\"]"));
        }
        let (called, how, no_counts) = (CALLED.text(ground)?, HOW.text(ground)?, NO_COUNTS.flag(ground)?);
        let answers = |subject: Feature| {
            let lacking = facts
                .iter()
                .map(|written| choices(written))
                .filter(|names| !names.iter().any(|name| states(ground, subject, name, no_counts)));
            let mut needs: Vec<Need> = lacking
                .map(|names| {
                    let what = called.clone().unwrap_or_else(|| words(&names));
                    Need::new(what, how.clone().unwrap_or_else(|| advice(&names)))
                })
                .collect();
            needs.dedup();
            let answer = if needs.is_empty() { Answer::Truth(true) } else { Answer::Lacking(needs) };
            Reading::new(subject, answer)
        };
        Ok(ground.subjects().into_iter().map(answers).collect())
    }
}

fn states<G: Ground>(ground: &G, subject: Feature, name: &str, no_counts: bool) -> bool {
    match ground.fact(&[subject], name).pop().flatten() {
        None => false,
        Some(Value::Flag(flag)) => flag || no_counts,
        Some(_) => true,
    }
}

/// What to do about facts that are not stated.
fn advice(names: &[&str]) -> String {
    let (declared, keyed): (Vec<&str>, Vec<&str>) =
        names.iter().partition(|name| name.starts_with("declared."));
    let stated = (!keyed.is_empty()).then(|| format!("state {} under [sheet]", keys(&keyed)));
    let said = declared
        .iter()
        .filter_map(|name| name.strip_prefix("declared."))
        .map(|subject| format!("say `{subject} = \"none\"` or `\"shown\"` under [declared]"));
    let all = stated.into_iter().chain(said).collect::<Vec<_>>().join(", or ");
    let mut letters = all.chars();
    letters
        .next()
        .map_or_else(String::new, |first| format!("{}{}.", first.to_ascii_uppercase(), letters.as_str()))
}
