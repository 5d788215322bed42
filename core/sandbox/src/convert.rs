//! Between the words of the interface and the words of the core.

use groundrule_plan::Status;
use groundrule_site::{Fact, Mark, Measured, Parameter};
use groundrule_survey::{Position, Shape};
use groundrule_units::{Dimension, Length, Quantity};

use crate::bindings::types;
use crate::stop::Stop;

pub(crate) fn dimension(dimension: Dimension) -> types::Dimension {
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

/// A dimension that a module names; an error when this program has no word for it.
pub(crate) fn known_dimension(dimension: &types::Dimension) -> Result<Dimension, Stop> {
    match dimension {
        types::Dimension::Length => Ok(Dimension::Length),
        types::Dimension::Area => Ok(Dimension::Area),
        types::Dimension::Volume => Ok(Dimension::Volume),
        types::Dimension::Angle => Ok(Dimension::Angle),
        types::Dimension::Ratio => Ok(Dimension::Ratio),
        types::Dimension::Other(name) if name == "flow" => Ok(Dimension::Flow),
        types::Dimension::Other(name) if name == "speed" => Ok(Dimension::Speed),
        types::Dimension::Other(name) if name == "time" => Ok(Dimension::Time),
        types::Dimension::Other(name) => Err(Stop::bad_answer(format!(
            "It measures in '{}', which this program does not know.",
            crate::neutral(crate::text::cut(name, 40))
        ))),
    }
}

pub(crate) fn quantity(quantity: Quantity) -> types::Quantity {
    types::Quantity { dimension: dimension(quantity.dimension()), si: quantity.si() }
}

pub(crate) fn parameter(parameter: &Parameter) -> types::Value {
    match parameter {
        Parameter::Quantity(value) => types::Value::Quantity(quantity(*value)),
        Parameter::Count(count) => types::Value::Count(*count),
        Parameter::Flag(flag) => types::Value::Flag(*flag),
        Parameter::Text(text) => types::Value::Text(text.clone()),
        Parameter::List(texts) => types::Value::Texts(texts.clone()),
    }
}

pub(crate) fn fact_value(fact: &Fact) -> types::Value {
    match fact {
        Fact::Amount(amount) => types::Value::Quantity(quantity(amount.value())),
        Fact::Count(count) => types::Value::Count(*count),
        Fact::Flag(flag) => types::Value::Flag(*flag),
        Fact::Text(text) => types::Value::Text(text.clone()),
        // A list has no case of its own here; `stated-each` hands it over.
        Fact::Amounts(amounts) => types::Value::Text(amounts_words(amounts)),
    }
}

/// A list of lengths in words: `1.5 m, 1.8 m`.
fn amounts_words(amounts: &[Measured]) -> String {
    amounts.iter().map(|amount| format!("{} m", amount.value().si())).collect::<Vec<_>>().join(", ")
}

pub(crate) fn shape(shape: &Shape) -> types::Shape {
    match shape {
        Shape::Outline { .. } => types::Shape::Outline,
        Shape::Line { .. } => types::Shape::Line,
        Shape::Spot(_) => types::Shape::Spot,
        Shape::Disc { .. } => types::Shape::Disc,
        Shape::Absent => types::Shape::Absent,
    }
}

pub(crate) fn status(status: Status) -> &'static str {
    match status {
        Status::Existing => "existing",
        Status::Proposed => "proposed",
        Status::Remove => "remove",
    }
}

/// A mark to draw; an error when one of its places is nowhere.
pub(crate) fn mark(mark: &types::Mark) -> Result<Mark, Stop> {
    match mark {
        types::Mark::Spot((x, y)) => Ok(Mark::Spot(position(*x, *y)?)),
        types::Mark::Span((x, y, to_x, to_y)) => Ok(Mark::Span(position(*x, *y)?, position(*to_x, *to_y)?)),
        types::Mark::Region(flat) => {
            let (places, rest) = flat.as_chunks::<2>();
            if !rest.is_empty() || places.len() < 3 {
                return Err(Stop::bad_answer(format!(
                    "It marked a region by {} numbers; a region takes x and y of three places or more.",
                    flat.len()
                )));
            }
            places.iter().map(|[x, y]| position(*x, *y)).collect::<Result<_, _>>().map(Mark::Region)
        }
    }
}

fn position(x: f64, y: f64) -> Result<Position, Stop> {
    if x.is_finite() && y.is_finite() {
        Ok(Position { x: Length::from_metres(x), y: Length::from_metres(y) })
    } else {
        Err(Stop::bad_answer(format!("It marked a place at x {x}, y {y}.")))
    }
}

#[cfg(test)]
mod tests {
    use groundrule_site::{Fact, Measured};
    use groundrule_units::Length;

    use super::{fact_value, types};

    #[test]
    fn a_list_looked_up_as_one_fact_comes_as_text() {
        let check = |metres: &[f64], expected: &str| {
            let list = metres.iter().map(|it| Measured::exact(Length::from_metres(*it))).collect();
            let types::Value::Text(text) = fact_value(&Fact::Amounts(list)) else { panic!("{metres:?}") };
            assert_eq!(text, expected);
        };
        check(&[1.8, 1.5], "1.8 m, 1.5 m");
        check(&[], "");
    }
}
