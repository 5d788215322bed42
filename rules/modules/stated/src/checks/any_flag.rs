use groundrule_kit::{Check, Feature, Ground, Info, Need, ParameterInfo, Reading, Refusal, Value};

use crate::names::{plain, several};

/// Any of some safeguards: whether a subject has at least one of them.
///
/// # What it measures
/// Whether any of the yes-or-no facts in `names` is stated as yes.
///
/// # Why
/// Rules often leave a choice of safeguards: a door onto a pool closes by itself, or sounds an alarm.
///
/// # Parameters
/// - `names`: the facts, by their names in the plan. Needed.
///
/// # Answers
/// Yes when one of them is stated as yes; no when all are stated as no. Lacking when none is yes and some are not
/// stated.
///
/// # Cautions
/// It says what the plan states, not that the safeguard is there or works.
pub struct AnyFlag;

const NAMES: ParameterInfo = ParameterInfo {
    name: "names",
    summary: "The yes-or-no facts of which one is enough, by their names in the plan; needed.",
};

impl Check for AnyFlag {
    const INFO: Info = Info {
        name: "any-flag",
        summary: "Whether the plan states at least one of some safeguards.",
        dimension: None,
        parameters: &[NAMES],
        groups: &[],
    };

    fn run<G: Ground>(ground: &G) -> Result<Vec<Reading<G::Amount>>, Refusal> {
        let names = several(ground, NAMES.name, "a list of names, such as [\"self_closing\", \"alarm\"]")?;
        let subjects = ground.subjects();
        let facts: Vec<Vec<Option<Value>>> = names.iter().map(|name| ground.fact(&subjects, name)).collect();
        let labels = ground.labels(&subjects);
        let one = |(at, (&subject, label)): (usize, (&Feature, String))| {
            let said = || facts.iter().map(|fact| fact.get(at).and_then(Option::as_ref));
            if said().any(|fact| fact == Some(&Value::Flag(true))) {
                return Reading::truth(subject, true);
            }
            let open: Vec<&String> =
                names.iter().zip(said()).filter(|(_, fact)| fact.is_none()).map(|(name, _)| name).collect();
            if open.is_empty() {
                return Reading::truth(subject, false);
            }
            let words: Vec<String> = open.iter().map(|name| plain(name)).collect();
            let keys: Vec<String> = open.iter().map(|name| format!("`{name}`")).collect();
            Reading::lacking(
                subject,
                Need::new(
                    format!("{} of {label}", words.join(" or ")),
                    format!("look, and state {} as true or false", keys.join(" or ")),
                ),
            )
        };
        Ok(subjects.iter().zip(labels).enumerate().map(one).collect())
    }
}
