//! The words of a finding: what is asked, where it is, and small phrases.

use groundrule_packs::Sense;
use groundrule_site::{Fact, Feature};

use crate::bound::{Figure, Figures};
use crate::finding::Required;

/// What a limit asks for, as a report prints it.
pub(crate) fn required(sense: Sense, figures: &Figures) -> Required {
    let parts = |figure: &Figure| match figure {
        Figure::Amount(amount, text) => (Some(amount.value()), text.clone()),
        Figure::Count(count) => (None, count.to_string()),
        Figure::None => (None, String::new()),
    };
    let (value, mut text) = parts(&figures.bound);
    let upper = figures.upper.as_ref().map(parts);
    if let Some((_, upper)) = &upper {
        text = format!("{text} to {upper}");
    }
    if let Some(also) = &figures.also {
        text = format!("{text} ({})", also.text);
    }
    Required { sense, text, value, upper: upper.and_then(|(value, _)| value), said: None }
}

/// A truth in a word.
pub(crate) const fn yes_or_no(truth: bool) -> &'static str {
    if truth { "yes" } else { "no" }
}

/// A name of a file format as words: `clear_opening` to `clear opening`.
pub(crate) fn plain(name: &str) -> String {
    name.replace(['_', '-'], " ")
}

/// Several things in a sentence: `a`, `a and b`, `a, b and c`.
pub(crate) fn list(items: &[String]) -> String {
    match items {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// What to call a feature: a lot line by its role as well, since people know it by that.
pub(crate) fn called(feature: &Feature) -> String {
    match feature.facts.get("role") {
        Some(Fact::Text(role)) if feature.kind == "lot-line" => {
            format!("{} line {}", plain(role), feature.id.0)
        }
        _ => feature.title.clone(),
    }
}

/// A phrase for where: `shed to side line lot.se-ne`.
pub(crate) fn place(features: &[&Feature]) -> String {
    let names: Vec<String> = features.iter().map(|feature| called(feature)).collect();
    match names.as_slice() {
        [] => "the whole plan".to_owned(),
        [subject] => subject.clone(),
        [subject, others @ ..] => format!("{subject} to {}", list(others)),
    }
}
