//! The kit's words to the interface's, and back.

use groundrule_units::{Dimension, Length, Quantity};

use super::bindings::exports::groundrule::rules::checks as out;
use super::bindings::groundrule::rules::{amounts::Measured, types};
use crate::{Answer, Fact, Feature, Info, Mark, Need, Place, Reading, Shape, Value};

pub(super) fn handles(features: &[Feature]) -> Vec<types::Feature> {
    features.iter().map(|feature| feature.handle()).collect()
}

pub(super) fn pairs(pairs: &[(Feature, Feature)]) -> Vec<(types::Feature, types::Feature)> {
    pairs.iter().map(|(a, b)| (a.handle(), b.handle())).collect()
}

pub(super) fn features(handles: Vec<types::Feature>) -> Vec<Feature> {
    handles.into_iter().map(Feature::from_handle).collect()
}

pub(super) fn feature_pairs(pairs: Vec<(types::Feature, types::Feature)>) -> Vec<(Feature, Feature)> {
    pairs.into_iter().map(|(a, b)| (Feature::from_handle(a), Feature::from_handle(b))).collect()
}

pub(super) fn perhaps(handles: Vec<Option<types::Feature>>) -> Vec<Option<Feature>> {
    handles.into_iter().map(|handle| handle.map(Feature::from_handle)).collect()
}

/// A quantity whose dimension this kit has a word for.
///
/// Only a host newer than the kit can have another, and only for a fact that a check of today cannot have
/// asked for by name; to go on with a number of unknown sort would be worse than to stop.
pub(super) fn quantity(quantity: &types::Quantity) -> Quantity {
    match known(&quantity.dimension) {
        Ok(dimension) => Quantity::new(dimension, quantity.si),
        Err(name) => unknown(name),
    }
}

#[allow(clippy::panic, reason = "the panic hook carries the words to the report")]
fn unknown(dimension: &str) -> ! {
    panic!("an amount of `{dimension}`, which this module's kit has no word for; build it with a newer kit")
}

fn known(dimension: &types::Dimension) -> Result<Dimension, &str> {
    match dimension {
        types::Dimension::Length => Ok(Dimension::Length),
        types::Dimension::Area => Ok(Dimension::Area),
        types::Dimension::Volume => Ok(Dimension::Volume),
        types::Dimension::Angle => Ok(Dimension::Angle),
        types::Dimension::Ratio => Ok(Dimension::Ratio),
        types::Dimension::Other(name) => match name.as_str() {
            "flow" => Ok(Dimension::Flow),
            "speed" => Ok(Dimension::Speed),
            "time" => Ok(Dimension::Time),
            _ => Err(name),
        },
    }
}

fn dimension_out(dimension: Dimension) -> types::Dimension {
    match dimension {
        Dimension::Length => types::Dimension::Length,
        Dimension::Area => types::Dimension::Area,
        Dimension::Volume => types::Dimension::Volume,
        Dimension::Angle => types::Dimension::Angle,
        Dimension::Ratio => types::Dimension::Ratio,
        // The words of the frozen interface end here; what came later goes by name.
        Dimension::Flow => types::Dimension::Other("flow".to_owned()),
        Dimension::Speed => types::Dimension::Other("speed".to_owned()),
        Dimension::Time => types::Dimension::Other("time".to_owned()),
    }
}

pub(super) fn value(value: types::Value) -> Value {
    match value {
        types::Value::Quantity(it) => match known(&it.dimension) {
            Ok(dimension) => Value::Quantity(Quantity::new(dimension, it.si)),
            // As the interface says: whatever has no case of its own comes as text.
            Err(name) => Value::Text(format!("an amount of {name}")),
        },
        types::Value::Count(count) => Value::Count(count),
        types::Value::Flag(flag) => Value::Flag(flag),
        types::Value::Text(text) => Value::Text(text),
        types::Value::Texts(texts) => Value::Texts(texts),
    }
}

pub(super) fn shape(shape: types::Shape) -> Shape {
    match shape {
        types::Shape::Outline => Shape::Outline,
        types::Shape::Line => Shape::Line,
        types::Shape::Spot => Shape::Spot,
        types::Shape::Disc => Shape::Disc,
        types::Shape::Absent => Shape::Absent,
    }
}

pub(super) fn place((x, y): (f64, f64)) -> Place {
    Place { x: Length::from_metres(x), y: Length::from_metres(y) }
}

pub(super) fn places(flat: &[f64]) -> Vec<Place> {
    flat.chunks_exact(2)
        .map(|xy| Place { x: Length::from_metres(xy[0]), y: Length::from_metres(xy[1]) })
        .collect()
}

pub(super) fn info(info: &Info) -> out::CheckInfo {
    let parameters = info
        .parameters
        .iter()
        .map(|parameter| out::ParameterInfo {
            name: parameter.name.to_owned(),
            summary: parameter.summary.to_owned(),
        })
        .collect();
    out::CheckInfo {
        name: info.name.to_owned(),
        summary: info.summary.to_owned(),
        dimension: info.dimension.map(dimension_out),
        parameters,
        groups: info.groups.iter().map(|&group| group.to_owned()).collect(),
    }
}

pub(super) fn reading(reading: Reading<Measured>) -> out::Reading {
    out::Reading {
        features: handles(&reading.features),
        answer: answer(reading.answer),
        marks: reading.marks.into_iter().map(mark).collect(),
        facts: reading.facts.into_iter().map(|(name, it)| (name.into_owned(), fact(it))).collect(),
    }
}

fn answer(answer: Answer<Measured>) -> out::Answer {
    match answer {
        Answer::Amount(amount) => out::Answer::Amount(amount),
        Answer::Count(count) => out::Answer::Count(count),
        Answer::Truth(truth) => out::Answer::Truth(truth),
        Answer::Lacking(needs) => out::Answer::Lacking(needs.into_iter().map(need).collect()),
        Answer::NotApplicable(why) => out::Answer::NotApplicable(why),
    }
}

fn need(need: Need) -> types::Need {
    types::Need { what: need.what, how: need.how }
}

fn fact(fact: Fact<Measured>) -> out::Fact {
    match fact {
        Fact::Amount(amount) => out::Fact::Amount(amount),
        Fact::Count(count) => out::Fact::Count(count),
        Fact::Flag(flag) => out::Fact::Flag(flag),
        Fact::Text(text) => out::Fact::Text(text),
    }
}

fn mark(mark: Mark) -> types::Mark {
    let xy = |place: Place| (place.x.metres(), place.y.metres());
    match mark {
        Mark::Spot(at) => types::Mark::Spot(xy(at)),
        Mark::Span(from, to) => {
            let ((x1, y1), (x2, y2)) = (xy(from), xy(to));
            types::Mark::Span((x1, y1, x2, y2))
        }
        Mark::Region(ring) => types::Mark::Region(
            ring.into_iter().flat_map(|place| [place.x.metres(), place.y.metres()]).collect(),
        ),
    }
}
