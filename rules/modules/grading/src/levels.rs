//! Levels that the plan states of a thing, by the name a row gives.

use groundrule_kit::{Feature, Ground, Need, ParameterInfo, Refusal, Value};

use crate::amounts::label;

/// The parameter that names a stated level.
pub(crate) const OF: ParameterInfo = ParameterInfo {
    name: "of",
    summary: "The level, as the plan file calls it, such as `floor_level`; needed.",
};

/// The name that the row gives.
pub(crate) fn named<G: Ground>(ground: &G) -> Result<String, Refusal> {
    let wrong = |given: &str| {
        Err(Refusal::new(format!(
            "parameter `of` is {given}; give the name of a level, such as \"floor_level\""
        )))
    };
    match ground.parameter("of") {
        Some(Value::Text(name)) => Ok(name),
        Some(other) => wrong(other.sort()),
        None => wrong("not given"),
    }
}

/// The level of that name, or what to state.
pub(crate) fn stated<G: Ground>(ground: &G, feature: Feature, name: &str) -> Result<G::Amount, Need> {
    ground.stated(&[feature], name).pop().flatten().ok_or_else(|| {
        let what = format!("{} of {}", name.replace('_', " "), label(ground, feature));
        Need::new(
            what,
            format!("take that level from the same benchmark as the ground and state it as `{name}`"),
        )
    })
}
