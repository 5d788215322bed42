//! `[site]`: facts of the place and of the application.

use groundrule_units::{
    Angle, NorthKind, Question, SheetUnit, Unread, Written, read_angle, read_orientation,
};
use toml::de::DeValue;

use crate::model::{Accuracy, North, SiteFacts};
use crate::reader::{Date, Form, Read, Reader, Shape, Value, number_or_text, quote, span_of, unread};
use crate::{Gravity, Remark, Span};

crate::table! {
    /// Facts of the place and of the application.
    pub(crate) table SiteTable {
        /// The title of the plan.
        required name: String,
        /// The unit of bare numbers.
        required units: SheetUnit,
        /// Where true north lies, seen from the top of the sheet.
        optional north: WrittenNorth,
        /// Latitude in degrees, north positive.
        optional latitude: Degrees<90>,
        /// Longitude in degrees, east positive.
        optional longitude: Degrees<180>,
        /// The zoning district.
        optional district: String,
        /// Overlay districts.
        optional overlays: Vec<String>,
        /// The day the application is filed; rules in force that day are asked.
        optional filed: Date,
        /// The type of permit asked for. The packs of this program know `fence` (a gate or garden wall too), `shed`
        /// (any lesser building), `deck` (a porch too), `pool` (a spa too), `adu`, `addition`, `house`, `grading` and
        /// `landscape`; with another word, or none, they ask what any permit is asked.
        optional permit: String,
        /// How well everything was placed that does not say so itself.
        optional by: Accuracy,
    }
}

crate::words! { SheetUnit {
    "ft" => Self::Feet, "feet";
    "in" => Self::Inches, "inches";
    "m" => Self::Metres, "metres";
    "mm" => Self::Millimetres, "millimetres";
} }

/// What stands in for the facts of a site that could not be read; the file has its fault and no plan comes of it.
pub(crate) fn nowhere() -> SiteFacts {
    SiteFacts {
        name: String::new(),
        units: SheetUnit::Feet,
        north: None,
        latitude: None,
        longitude: None,
        district: None,
        overlays: Vec::new(),
        filed: None,
        permit: None,
        by: None,
    }
}

impl SiteTable {
    /// The facts; a turn of north without its sense becomes a remark.
    pub(crate) fn facts(self, reader: &mut Reader<'_>) -> SiteFacts {
        let north = match self.north {
            Some(WrittenNorth::Known(north, kind)) => {
                reader.remarks.extend(not_true(kind, north.span));
                Some(north)
            }
            Some(WrittenNorth::Asked(question, span)) => {
                reader.remarks.push(sense_unsaid(&question, span));
                None
            }
            None => None,
        };
        let nowhere = nowhere();
        SiteFacts {
            name: self.name.unwrap_or(nowhere.name),
            units: self.units.unwrap_or(nowhere.units),
            north,
            latitude: self.latitude.map(|degrees| degrees.0),
            longitude: self.longitude.map(|degrees| degrees.0),
            district: self.district,
            overlays: self.overlays.unwrap_or_default(),
            filed: self.filed.map(|date| date.0),
            permit: self.permit,
            by: self.by,
        }
    }
}

fn sense_unsaid(question: &Question, span: Span) -> Remark {
    let choices: Vec<String> = question.choices.iter().map(|choice| quote(choice)).collect();
    Remark {
        code: "data::north-sense",
        gravity: Gravity::Lacking,
        message: format!("It is not said which way north lies. {}", question.ask),
        about: Vec::new(),
        spots: Vec::new(),
        span,
        help: Some(format!("Write {}.", choices.join(" or "))),
    }
}

/// A remark on a north that is not the true one, which sun and shade need.
fn not_true(kind: NorthKind, span: Span) -> Option<Remark> {
    let message = match kind {
        NorthKind::Unsaid | NorthKind::True => return None,
        NorthKind::Grid => "North is that of a map grid, which lies up to 2 degrees off true north.",
        NorthKind::Magnetic => "North is that of a compass, which lies up to 20 degrees off true north.",
    };
    Some(Remark {
        code: "data::north-kind",
        gravity: Gravity::Suspect,
        message: message.to_owned(),
        about: Vec::new(),
        spots: Vec::new(),
        span,
        help: Some("Correct it by the declination of the place, and write it as true.".to_owned()),
    })
}

/// North as written; a turn without its sense is not guessed.
#[derive(Debug)]
pub(crate) enum WrittenNorth {
    Known(North, NorthKind),
    Asked(Question, Span),
}

impl Read for WrittenNorth {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "north",
            doc: "The turn from the top of the sheet to true north with its sense: `\"18 deg clockwise of up\"`, \
                  `\"18 deg counterclockwise of up\"`; or `\"up\"`; or what up is: `\"up is N 4°30' E\"`.",
            example: "\"18 deg clockwise of up\"",
            of: Box::new(Shape::Any(vec![Shape::Text("18 deg clockwise of up"), Shape::Number("0")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        let span = span_of(value);
        match read_orientation(&text) {
            Ok(Written { value: north, text, .. }) => {
                Some(Self::Known(North { clockwise_of_up: north.clockwise_of_up, text, span }, north.north))
            }
            Err(Unread::Ask(question)) => Some(Self::Asked(question, span)),
            Err(why) => unread(why, value, reader),
        }
    }
}

/// An angle within so many degrees either way: latitude, longitude.
#[derive(Debug)]
pub(crate) struct Degrees<const MOST: u16>(pub(crate) Angle);

impl<const MOST: u16> Read for Degrees<MOST> {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "angle",
            doc: "Degrees as a number (`45.1`) or text (`\"45.1\"`, `\"45°06'\"`).",
            example: "\"45.1\"",
            of: Box::new(Shape::Any(vec![Shape::Text("45.1"), Shape::Number("45.1")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        if let DeValue::Array(_) | DeValue::Table(_) | DeValue::Boolean(_) | DeValue::Datetime(_) =
            value.get_ref()
        {
            return reader.wrong_type::<Self, _>(value);
        }
        let text = number_or_text::<Self>(value, reader)?;
        // Decimal degrees are what maps give; only other forms go the way of surveyors' angles.
        let angle = match text.trim().parse::<f64>() {
            Ok(degrees) => Angle::from_degrees(degrees),
            Err(_) => match read_angle(&text) {
                Ok(angle) => angle.value,
                Err(why) => return unread(why, value, reader),
            },
        };
        if angle.is_finite() && angle.abs() <= Angle::from_degrees(f64::from(MOST)) {
            return Some(Self(angle));
        }
        let message = format!("{} must lie between -{MOST} and {MOST} degrees.", reader.where_am_i());
        let help = "Latitude is positive to the north, longitude positive to the east; they may be swapped.";
        reader.fault_help("plan::out-of-range", message, span_of(value), "out of range", help)
    }
}
