//! `[[traverse]]`: bearings and distances from point to point.

use groundrule_units::{Bearing, CircularCurve, Style, Written, read_bearing, read_curve, show};

use super::{Measured, differ, given, one_key, refuse_strays};
use crate::model::{Accuracy, Call, Course, PointRef, Reading, Traverse};
use crate::reader::{Form, Keys, Read, Reader, Shape, Size, Table, Value, number_or_text, span_of, unread};
use crate::{At, Fault, Gravity, Name, Remark, Span};

crate::table! {
    /// Bearings and distances from point to point, as a deed calls them. It is closed when the last call ends where
    /// the first began.
    pub(crate) table TraverseTable {
        /// Where it begins.
        required from: PointRef,
        /// Its calls in order.
        required calls: Vec<WrittenCall>,
        /// How well they are known; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `traverse-sw`, by its first point.
        optional id: At<Name>,
    }
}

crate::table! {
    /// One call: straight by `bearing` and `distance`, or along an arc by `curve` and `turn`.
    pub(crate) table CallTable {
        /// The point it ends at.
        required to: PointRef,
        /// The direction it runs in, counted from north.
        optional bearing: At<Written<Bearing>>,
        /// The horizontal distance.
        optional distance: At<Size>,
        /// A circular arc by any two of its radius, arc, chord and delta.
        optional curve: At<CircularCurve>,
        /// The side the arc turns to.
        optional turn: CurveSide,
        /// The direction of its chord; without one it leaves in the direction of the call before.
        optional chord_bearing: At<Written<Bearing>>,
    }
}

/// The side an arc turns to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum CurveSide {
    Left,
    Right,
}

crate::words! { CurveSide {
    "left" => Self::Left, "anticlockwise";
    "right" => Self::Right, "clockwise";
} }

impl Read for Written<Bearing> {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "bearing",
            doc: "By quadrant (`\"N 4°30' E\"`, `\"S 85-30 W\"`, `\"due north\"`), or an azimuth clockwise from north \
                  (`\"184°30'\"`, `184.5`).",
            example: "\"N 4°30' E\"",
            of: Box::new(Shape::Any(vec![Shape::Text("N 4°30' E"), Shape::Number("184.5")])),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let text = number_or_text::<Self>(value, reader)?;
        match read_bearing(&text) {
            Ok(bearing) => Some(bearing),
            Err(why) => unread(why, value, reader),
        }
    }
}

impl Read for CircularCurve {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "curve",
            doc: "Any two of radius R, arc L, delta Δ (or D) and chord CH; more are checked against them.",
            example: "\"R=25.00' L=39.27'\"",
            of: Box::new(Shape::Text("R=25.00' L=39.27'")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        match read_curve(text, reader.units) {
            Ok(curve) => {
                reader.remarks.extend(disagreeing(&curve.value, span_of(value)));
                Some(curve.value)
            }
            Err(why) => unread(why, value, reader),
        }
    }
}

/// One remark for each figure of a curve that does not follow from the two that define it.
fn disagreeing(curve: &CircularCurve, span: Span) -> impl Iterator<Item = Remark> {
    curve.checks.iter().filter(|check| !check.agrees).map(move |check| {
        let [written, computed] = [check.written, check.computed].map(|it| show(it, Style::DecimalFeet));
        let part = check.part.sign();
        let message = format!(
            "The {part} of the curve is written as {written}, and the other figures make it {computed}."
        );
        Remark {
            code: "data::curve-figures",
            gravity: Gravity::Suspect,
            message,
            about: Vec::new(),
            spots: Vec::new(),
            span,
            help: Some(
                "Check the figures against the deed; the first two of R, Δ, L and CH are used.".to_owned(),
            ),
        }
    })
}

/// A call as far as it could be read.
#[derive(Debug)]
pub(crate) struct WrittenCall(Option<Call>);

impl Read for WrittenCall {
    fn shape() -> Shape {
        CallTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            reader.wrong_type::<Self, ()>(value);
            return Some(Self(None));
        };
        let table = CallTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<CallTable>(reader);
        Some(Self(table.call(&keys, span_of(value), reader)))
    }
}

const HELP: &str = "Write `bearing` and `distance`, or `curve` and `turn`.";

impl CallTable {
    fn call(self, keys: &Keys<'_, '_>, span: Span, reader: &mut Reader<'_>) -> Option<Call> {
        let ways = ["bearing", "curve"];
        let Some(way) = given(keys, &ways) else {
            return one_key(keys, &ways, "The course of the call", HELP, reader);
        };
        let course = if way == "bearing" {
            let fits = refuse_strays(keys, &["turn", "chord_bearing"], way, reader);
            require(keys, "distance", "\"76.60'\"", reader)?;
            let distance = self.distance?;
            let distance = At { value: distance.value.0, span: distance.span };
            fits.then_some(Course::Straight { bearing: self.bearing?, distance })?
        } else {
            let fits = refuse_strays(keys, &["distance"], way, reader);
            require(keys, "turn", "\"left\"", reader)?;
            let chord_bearing = if keys.has("chord_bearing") { Some(self.chord_bearing?) } else { None };
            let left = self.turn? == CurveSide::Left;
            fits.then_some(Course::Curve { curve: self.curve?, left, chord_bearing })?
        };
        Some(Call { to: self.to?, course, span })
    }
}

fn require(keys: &Keys<'_, '_>, key: &str, example: &str, reader: &mut Reader<'_>) -> Option<()> {
    if keys.has(key) {
        return Some(());
    }
    let message = format!("The call lacks its `{key}`.");
    let help = format!("Add `{key} = {example}`.");
    reader.fault_help("plan::missing-key", message, keys.span(), "in this call", help)
}

impl Measured for TraverseTable {
    const SECTION: &'static str = "traverse";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let calls = self.calls?;
        if calls.is_empty() {
            let span = keys.key_span("calls").unwrap_or(keys.span());
            let fault = Fault::new("plan::no-reading", "The traverse has no call.", span, "empty");
            let help = "Write `calls = [{ to = \"nw\", bearing = \"N 4°30' E\", distance = \"132.00'\" }]`.";
            reader.tell(fault.with_help(help));
            return None;
        }
        let start = self.from;
        let calls: Vec<Call> = calls.into_iter().map(|call| call.0).collect::<Option<_>>()?;
        let start = start?;
        let mut sound = true;
        let mut here = &start;
        for (i, call) in calls.iter().enumerate() {
            sound &= differ(here, &call.to, "The call", reader);
            if let (0, Course::Curve { chord_bearing: None, curve, .. }) = (i, &call.course) {
                sound = false;
                let message = "The first call is a curve, and nothing says in which direction it leaves.";
                let help = "Add `chord_bearing = \"N 45 E\"`, or begin the traverse with a straight call.";
                let fault = Fault::new("plan::no-direction", message, curve.span, "no call before it");
                reader.tell(fault.with_help(help));
            }
            here = &call.to;
        }
        sound.then_some(Reading::Traverse(Traverse { start, calls }))
    }
}
