//! Ground in parts, each with its figure: a runoff coefficient or a curve number.

use groundrule_kit::{Fact, Feature, Ground, Need, Reading};

use crate::one::label;

/// A part of a subject.
#[derive(Debug)]
pub(crate) struct Part<A> {
    /// What to call it.
    pub(crate) name: String,
    /// Its area, without what an earlier part covers.
    pub(crate) area: A,
    /// Its figure.
    pub(crate) figure: f64,
}

/// Areas that are nothing but rounding, in square metres: what only touches the subject is no part of it.
const NOTHING: f64 = 1e-6;

/// Divides a subject of an area into what lies on it, in that order, and the rest. Each part needs a figure; `needed`
/// says what to state for one that has none.
pub(crate) fn parts<G: Ground>(
    ground: &G,
    subject: Feature,
    whole: &G::Amount,
    on: &[Feature],
    figure: impl Fn(Feature) -> Option<f64>,
    rest: Option<f64>,
    needed: impl Fn(&str) -> Need,
) -> Result<Vec<Part<G::Amount>>, Vec<Need>> {
    let mut parts = Vec::new();
    let mut needs = Vec::new();
    let mut covered: Option<G::Amount> = None;
    for at in 0..on.len() {
        let so_far = on.get(..=at).unwrap_or_default();
        let Some(&feature) = so_far.last() else { continue };
        let next = ground.covered(so_far, Some(subject));
        let area = match &covered {
            Some(before) => ground.subtract(&[(&next, before)]).pop(),
            None => ground.scale(&[(&next, 1.0)]).pop(),
        };
        covered = Some(next);
        let Some(area) = area.filter(|area| counts(ground, area)) else { continue };
        let name = label(ground, feature);
        match figure(feature) {
            Some(figure) => parts.push(Part { name, area, figure }),
            None => needs.push(needed(&name)),
        }
    }
    let left = match &covered {
        Some(covered) => ground.subtract(&[(whole, covered)]).pop(),
        None => ground.scale(&[(whole, 1.0)]).pop(),
    };
    if let Some(area) = left.filter(|area| counts(ground, area)) {
        match rest {
            Some(figure) => parts.push(Part { name: "the rest of the ground".to_owned(), area, figure }),
            None => needs.push(needed("the rest of the ground")),
        }
    }
    if needs.is_empty() { Ok(parts) } else { Err(needs) }
}

/// True for an area that is more than rounding, or that is lacking and has to be said.
fn counts<G: Ground>(ground: &G, area: &G::Amount) -> bool {
    ground.lacks(&[area]) == [true]
        || ground.values(&[area]).first().is_some_and(|value| value.si() > NOTHING)
}

/// The figure of all parts together, weighted by area.
pub(crate) fn composite<G: Ground>(ground: &G, parts: &[Part<G::Amount>]) -> Option<G::Amount> {
    ground.composite(&[parts.iter().map(|part| (&part.area, part.figure)).collect()]).pop().flatten()
}

/// Adds each part to a reading, under a name for its figure, and after them what holds for all together.
pub(crate) fn listed<A>(
    mut reading: Reading<A>,
    parts: Vec<Part<A>>,
    figure: &str,
    together: &[(&str, String)],
) -> Reading<A> {
    let after = parts.len() + 1;
    for (part, item) in parts.into_iter().zip(1..) {
        reading = reading
            .listed(item, "name", Fact::Text(part.name))
            .listed(item, "area", Fact::Amount(part.area))
            .listed(item, figure, Fact::Text(plain(part.figure)));
    }
    reading = reading.listed(after, "name", Fact::Text("all together".to_owned()));
    let words = together.iter();
    words.fold(reading, |reading, (name, text)| reading.listed(after, name, Fact::Text(text.clone())))
}

/// A figure in words, without the noughts that say nothing.
pub(crate) fn plain(figure: f64) -> String {
    let text = format!("{figure:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
