//! What the plan states of a feature, or what to ask for.

use groundrule_kit::{Feature, Ground, Need, ParameterInfo, Refusal, Value};

/// A stated amount of each feature, or what is lacking: `cover of gas`, with how to get it.
pub(crate) fn stated<G: Ground>(
    ground: &G,
    features: &[Feature],
    name: &str,
    how: &str,
) -> Vec<Result<G::Amount, Need>> {
    let labels = ground.labels(features);
    let asked = ground.stated(features, name).into_iter().zip(labels);
    let words = name.replace('_', " ");
    asked.map(|(amount, label)| amount.ok_or_else(|| Need::new(format!("{words} of {label}"), how))).collect()
}

/// How to get the cover of a line.
pub(crate) const COVER: &str =
    "state the earth over its top as `cover`: as it will be laid, or as found where it is exposed by hand";

/// How to get the height of a wire.
pub(crate) const HUNG: &str =
    "ask its owner how high its lowest place hangs and state that as `ground_clearance`; do not measure it";

/// The parameter that names a stated length.
pub(crate) const NAME: ParameterInfo =
    ParameterInfo { name: "name", summary: "The attribute, as the plan file calls it; needed." };

/// The length of each feature that the row names, or what is lacking.
pub(crate) fn stated_by_row<G: Ground>(
    ground: &G,
    features: &[Feature],
) -> Result<Vec<Result<G::Amount, Need>>, Refusal> {
    match ground.parameter("name") {
        Some(Value::Text(name)) => {
            let how = match name.as_str() {
                "cover" => COVER.to_owned(),
                "ground_clearance" => HUNG.to_owned(),
                name => format!("measure it, or ask whoever knows, and state it as `{name}`"),
            };
            Ok(stated(ground, features, &name, &how))
        }
        Some(other) => Err(Refusal::new(format!(
            "parameter `name` is {}; give the name of an attribute, such as \"cover\"",
            other.sort()
        ))),
        None => Err(Refusal::new("parameter `name` is not given; name an attribute, such as \"cover\"")),
    }
}

/// What to write where `located` is not there or is none of the words known.
pub(crate) fn how_located(word: Option<&str>) -> String {
    match word {
        None => {
            "state `located`: `marked` on the ground by its owner, from a `record`, or `guessed`".to_owned()
        }
        Some(word) => format!("`located` is \"{word}\"; write `marked`, `record` or `guessed`"),
    }
}
