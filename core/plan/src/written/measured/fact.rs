//! `[[fact]]`: something that is so.

use std::collections::BTreeMap;

use toml::de::DeValue;

use super::{Measured, PointName, differ, given, name_of, one_key};
use crate::model::{Accuracy, Fact, PointRef, Reading, WallRef};
use crate::reader::{Keys, Read, Reader, Shape, Value, span_of};
use crate::{At, Name};

crate::table! {
    /// Something that is so; exactly one of `square`, `right_angle`, `parallel`, `straight` and `equal`.
    pub(crate) table FactTable {
        /// The feature or lot with nothing but right angles.
        optional square: At<Name>,
        /// The corner of an outline that is a right angle, or three points with the corner in the middle.
        optional right_angle: RightAngle,
        /// Two walls that run in the same or in opposite directions.
        optional parallel: TwoWalls,
        /// Three or more points on one line.
        optional straight: Row,
        /// Two walls of the same length: the diagonals of a rectangle.
        optional equal: TwoWalls,
        /// How well that is known; exact when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `square-house`, by what it is about.
        optional id: At<Name>,
    }
}

/// A right angle at a corner, or between two points.
#[derive(Debug)]
pub(crate) struct RightAngle {
    at: PointRef,
    arms: Option<(PointRef, PointRef)>,
}

impl Read for RightAngle {
    fn shape() -> Shape {
        let three = Shape::List { of: Box::new(PointRef::shape()), least: 3, most: Some(3) };
        Shape::Any(vec![PointRef::shape(), three])
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let help =
            "Write three points with the corner in the middle, `[\"a\", \"b\", \"c\"]`, or `house.ne`.";
        match value.get_ref() {
            DeValue::String(_) => {
                let at = PointRef::read(value, reader)?;
                if at.owner.is_some() {
                    return Some(Self { at, arms: None });
                }
                let message = format!("`{}` alone is no angle.", at.point.0);
                reader.fault_help("plan::no-arms", message, at.span, "between which points?", help)
            }
            DeValue::Array(items) => {
                let points = refs(items, reader)?;
                let Ok([from, at, to]) = <[PointRef; 3]>::try_from(points) else {
                    let message = format!("A right angle has three points; here are {}.", items.len());
                    return reader.fault_help("plan::no-arms", message, span_of(value), "not three", help);
                };
                let mut sound = true;
                for (a, b) in [(&at, &from), (&at, &to), (&from, &to)] {
                    sound &= differ(a, b, "An arm of the angle", reader);
                }
                sound.then_some(Self { at, arms: Some((from, to)) })
            }
            _ => reader.wrong_type::<Self, _>(value),
        }
    }
}

fn refs(items: &[Value<'_>], reader: &mut Reader<'_>) -> Option<Vec<PointRef>> {
    let points: Vec<Option<PointRef>> = items.iter().map(|item| PointRef::read(item, reader)).collect();
    points.into_iter().collect()
}

/// Two walls.
#[derive(Debug)]
pub(crate) struct TwoWalls(WallRef, WallRef);

impl Read for TwoWalls {
    fn shape() -> Shape {
        Shape::List { of: Box::new(WallRef::shape()), least: 2, most: Some(2) }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array().map(AsRef::<[Value<'_>]>::as_ref) {
            Some([first, second]) => {
                let walls = (WallRef::read(first, reader), WallRef::read(second, reader));
                Some(Self(walls.0?, walls.1?))
            }
            Some(items) => {
                let message =
                    format!("{} compares two walls; here are {}.", reader.where_am_i(), items.len());
                let help = "Write two walls: `[\"house.sw-se\", \"lot.sw-se\"]`.";
                reader.fault_help("plan::not-two-walls", message, span_of(value), "not two", help)
            }
            None => reader.wrong_type::<Self, _>(value),
        }
    }
}

/// Points on one line.
#[derive(Debug)]
pub(crate) struct Row(Vec<PointRef>);

impl Read for Row {
    fn shape() -> Shape {
        Shape::List { of: Box::new(PointRef::shape()), least: 3, most: None }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(items) = value.get_ref().as_array() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let points = refs(items, reader)?;
        if points.len() < 3 {
            let message = format!("Any two points stand on one line; here are {}.", points.len());
            let help = "Name three or more: `[\"a\", \"b\", \"c\"]`.";
            return reader.fault_help("plan::too-few-points", message, span_of(value), "too few", help);
        }
        let mut first: BTreeMap<PointName, &PointRef> = BTreeMap::new();
        let mut sound = true;
        for point in &points {
            if let Some(before) = first.insert(name_of(point), point) {
                sound &= differ(before, point, "The line", reader);
            }
        }
        sound.then_some(Self(points))
    }
}

impl Measured for FactTable {
    const SECTION: &'static str = "fact";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let ways = ["square", "right_angle", "parallel", "straight", "equal"];
        let Some(way) = given(keys, &ways) else {
            let help =
                "Write one of `square`, `right_angle`, `parallel`, `straight` and `equal` in each [[fact]].";
            return one_key(keys, &ways, "What is so", help, reader);
        };
        let fact = match way {
            "square" => Fact::Square(self.square?),
            "right_angle" => {
                let RightAngle { at, arms } = self.right_angle?;
                Fact::RightAngle { at, arms }
            }
            "parallel" => {
                let TwoWalls(first, second) = self.parallel?;
                Fact::Parallel(first, second)
            }
            "straight" => Fact::Straight(self.straight?.0),
            _ => {
                let TwoWalls(first, second) = self.equal?;
                Fact::Equal(first, second)
            }
        };
        Some(Reading::Fact(fact))
    }
}
