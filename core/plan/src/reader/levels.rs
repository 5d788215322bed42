//! Levels as grading plans write them, one or a list.

use groundrule_units::{Level, Written, read_level};

use super::quantities::{names_other_system, number_or_text, unread};
use super::{Form, Read, Reader, Shape, Value, Word, span_of};
use crate::At;

/// What stands in a list where no level was taken.
const NOT_TAKEN: &str = "-";

impl Read for Written<Level> {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "level",
            doc: "A height over the one datum of the plan, in the unit of `site.units` where it names none, and before or \
                  after it what it is the level of: `EG` existing grade, `FG` finished grade, `FF` or `FFE` finished floor, \
                  `TW` and `BW` top and bottom of wall, `TC` top of curb, `FL` flow line, `HP` and `LP` high and low \
                  point, `RIM`, `INV` invert, `BM` bench mark: `\"FG 100.5\"`, `\"+100.5\"`, `100.5`, `\"101.25 TW\"`. \
                  One that seems to have lost its leading digits, as `\"00.50\"`, is asked about.",
            example: "\"FG 100.5\"",
            of: Box::new(Shape::Any(vec![Shape::Text("FG 100.5"), Shape::Number("100.5")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        match read_level(&text, reader.units) {
            Ok(level) => {
                if reader.units.is_some_and(|units| names_other_system(&text, units)) {
                    reader.other_system.push(span_of(value));
                }
                Some(level)
            }
            Err(why) => unread(why, value, reader),
        }
    }
}

/// Levels in a list, with nothing where `"-"` says that none was taken.
///
/// A list with a level that cannot be read is none, so that nobody counts what is left of it.
#[derive(Debug)]
pub struct Levels(pub Vec<Option<At<Written<Level>>>>);

impl Read for Levels {
    fn shape() -> Shape {
        let gap = Word { word: NOT_TAKEN.to_owned(), doc: "not taken".to_owned() };
        let each = Shape::Any(vec![Written::<Level>::shape(), Shape::Words(vec![gap])]);
        Shape::List { of: Box::new(each), least: 1, most: None }
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(items) = value.get_ref().as_array() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let one = |item: &Value<'_>, reader: &mut Reader<'_>| match item.get_ref().as_str() {
            Some(NOT_TAKEN) => Some(None),
            _ => At::read(item, reader).map(Some),
        };
        let levels: Vec<Option<Option<At<Written<Level>>>>> =
            items.iter().map(|item| one(item, reader)).collect();
        levels.into_iter().collect::<Option<Vec<_>>>().map(Self)
    }
}

/// One level of a point, or those of more than one surface there.
#[derive(Debug)]
pub struct LevelOrLevels(pub Vec<At<Written<Level>>>);

impl Read for LevelOrLevels {
    fn shape() -> Shape {
        let level = Written::<Level>::shape();
        let list = Shape::List { of: Box::new(level.clone()), least: 1, most: None };
        Shape::Any(vec![level, list])
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        match value.get_ref().as_array().map(|items| &**items) {
            Some([]) => {
                let help = "Write a level, as `\"FG 100.5\"`, or take the point out.";
                let message = format!("{} has no level.", reader.where_am_i());
                reader.fault_help("plan::list-length", message, span_of(value), "nothing here", help)
            }
            Some(items) => {
                let levels: Vec<_> = items.iter().map(|item| At::read(item, reader)).collect();
                levels.into_iter().collect::<Option<Vec<_>>>().map(Self)
            }
            None => At::read(value, reader).map(|level| Self(vec![level])),
        }
    }
}
