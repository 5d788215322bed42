//! Parameters that name facts, and what is stated under them.

use groundrule_kit::{Feature, Ground, Need, Reading, Refusal, Value};

/// A text parameter that the row has to give.
pub(crate) fn needed<G: Ground>(ground: &G, parameter: &str, example: &str) -> Result<String, Refusal> {
    match ground.parameter(parameter) {
        Some(Value::Text(text)) if !text.is_empty() => Ok(text),
        other => Err(wrong(parameter, other.as_ref(), example)),
    }
}

/// A parameter that is one text or a list of them, which the row has to give.
pub(crate) fn several<G: Ground>(ground: &G, parameter: &str, example: &str) -> Result<Vec<String>, Refusal> {
    match ground.parameter(parameter) {
        Some(Value::Text(text)) if !text.is_empty() => Ok(vec![text]),
        Some(Value::Texts(texts)) if !texts.is_empty() => Ok(texts),
        other => Err(wrong(parameter, other.as_ref(), example)),
    }
}

fn wrong(parameter: &str, given: Option<&Value>, example: &str) -> Refusal {
    let given = given.map_or("not given", Value::sort);
    Refusal::new(format!("parameter `{parameter}` is {given}; give it as {example}"))
}

/// A fact's name as a sentence has it: `latch_height` becomes `latch height`.
pub(crate) fn plain(name: &str) -> String {
    name.replace('_', " ")
}

/// The amount that each subject states under the name that a parameter gives, or how to get it.
pub(crate) fn amounts<G: Ground>(
    ground: &G,
    parameter: &str,
    example: &str,
    how: &str,
) -> Result<Vec<Reading<G::Amount>>, Refusal> {
    let name = needed(ground, parameter, example)?;
    let subjects = ground.subjects();
    let stated = ground.stated(&subjects, &name);
    let labels = ground.labels(&subjects);
    let words = plain(&name);
    let one = |((subject, amount), label): ((Feature, Option<G::Amount>), String)| match amount {
        Some(amount) => Reading::amount(subject, amount),
        None => Reading::lacking(
            subject,
            Need::new(format!("{words} of {label}"), format!("{how} and state it as `{name}`")),
        ),
    };
    Ok(subjects.into_iter().zip(stated).zip(labels).map(one).collect())
}
