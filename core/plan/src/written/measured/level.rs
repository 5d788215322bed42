//! `[[level]]` and `[[level_run]]`: heights, falls and sights from a level.

use groundrule_units::{Length, Ratio, Written};

use super::{Measured, differ, given, one_key, refuse_strays};
use crate::model::{Accuracy, Fall, FallReading, Height, LevelRun, PointRef, Reading, Sight};
use crate::reader::{Keys, NotNegative, Read, Reader, Shape, Size, Table, Value, span_of};
use crate::{At, Fault, Name};

crate::table! {
    /// A height: of one `point` over the datum of the plan, or how far `to` lies below or above `from`.
    pub(crate) table LevelTable {
        /// The point whose height is known. A benchmark that is first named here needs no place.
        optional point: PointRef,
        /// Its height over the datum of the plan.
        optional height: At<Written<Length>>,
        /// The point a fall is counted from.
        optional from: PointRef,
        /// The point it is counted to.
        optional to: PointRef,
        /// `to` is so much lower.
        optional fall: At<NotNegative>,
        /// `to` is so much higher.
        optional rise: At<NotNegative>,
        /// `to` is lower by this share of the distance.
        optional slope: At<Written<Ratio>>,
        /// The horizontal run the slope was read over; the distance between the two points when absent.
        optional run: At<Size>,
        /// How well it was measured; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `level-bm` or `level-a-b`, by its points.
        optional id: At<Name>,
    }
}

impl Measured for LevelTable {
    const SECTION: &'static str = "level";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let ways = ["height", "fall", "rise", "slope"];
        let help = "Write `point` and `height`; or `from`, `to` and one of `fall`, `rise` and `slope`.";
        let Some(way) = given(keys, &ways) else {
            return one_key(keys, &ways, "The level", help, reader);
        };
        let (needed, strays): (&[&str], &[&str]) = match way {
            "height" => (&["point"], &["from", "to", "run"]),
            "slope" => (&["from", "to"], &["point"]),
            _ => (&["from", "to"], &["point", "run"]),
        };
        let fits = refuse_strays(keys, strays, way, reader);
        for key in needed.iter().filter(|key| !keys.has(key)) {
            let message = format!("The level lacks its `{key}`.");
            let fault = Fault::new("plan::missing-key", message, keys.span(), "in this table");
            reader.tell(fault.with_help(help));
        }
        if way == "height" {
            let height = Height { point: self.point?, height: self.height? };
            return fits.then_some(Reading::Height(height));
        }
        let fall = match way {
            "fall" => self.fall.map(|fall| FallReading::Height(At { value: fall.value.0, span: fall.span })),
            "rise" => self.rise.map(|rise| {
                let Written { value, text, mark } = rise.value.0;
                FallReading::Height(At { value: Written { value: -value, text, mark }, span: rise.span })
            }),
            _ => self.slope.and_then(|slope| {
                let run = if keys.has("run") { Some(self.run?) } else { None };
                let run = run.map(|run| At { value: run.value.0, span: run.span });
                falls(&slope, reader).then_some(FallReading::Slope { slope, run })
            }),
        };
        let (from, to) = (self.from?, self.to?);
        let apart = differ(&from, &to, "The fall", reader);
        let fall = fall?;
        (apart && fits).then_some(Reading::Fall(Fall { from, to, fall }))
    }
}

/// True when a slope goes down from its first point, as it must.
fn falls(slope: &At<Written<Ratio>>, reader: &mut Reader<'_>) -> bool {
    if slope.value.value >= Ratio::ZERO {
        return true;
    }
    let message = "The slope is less than zero.";
    let fault = Fault::new("plan::negative", message, slope.span, "less than zero");
    reader.tell(fault.with_help("A slope falls from `from` to `to`; where it rises, swap the two."));
    false
}

crate::table! {
    /// Sights from a level set up between points: a backsight to what is known, a foresight to what is not.
    pub(crate) table LevelRunTable {
        /// The points the staff stood on, in order: the first with a backsight, the last with a foresight.
        required sights: Vec<WrittenSight>,
        /// How well each sight was read; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `level-run-bm-sill`, by its first and last point.
        optional id: At<Name>,
    }
}

crate::table! {
    /// What the staff read at one point. A turning point has both: `fore` from the set-up before, `back` from the next.
    pub(crate) table SightTable {
        /// Where the staff stood.
        required at: PointRef,
        /// Read from the set-up that came before: the point is so far below the line of sight.
        optional fore: At<Written<Length>>,
        /// Read first from the set-up that follows.
        optional back: At<Written<Length>>,
    }
}

/// A sight as far as it could be read.
#[derive(Debug)]
pub(crate) struct WrittenSight(Option<Sight>);

impl Read for WrittenSight {
    fn shape() -> Shape {
        SightTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(mut keys) = Keys::of(value) else {
            reader.wrong_type::<Self, ()>(value);
            return Some(Self(None));
        };
        let table = SightTable::read_keys(&mut keys, reader);
        keys.refuse_rest::<SightTable>(reader);
        let lost = (keys.has("fore") && table.fore.is_none()) || (keys.has("back") && table.back.is_none());
        if !keys.has("fore") && !keys.has("back") {
            let message = "The staff was not read at this point.";
            let fault = Fault::new("plan::missing-key", message, span_of(value), "no `fore` or `back`");
            reader.tell(fault.with_help("Add `back = \"4.32 ft\"`, `fore = \"5.10 ft\"`, or both."));
            return Some(Self(None));
        }
        let sight = table.at.map(|point| Sight { point, fore: table.fore, back: table.back });
        Some(Self(sight.filter(|_| !lost)))
    }
}

impl Measured for LevelRunTable {
    const SECTION: &'static str = "level_run";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let sights: Vec<Sight> = self.sights?.into_iter().map(|sight| sight.0).collect::<Option<_>>()?;
        let (Some(first), Some(last), 2..) = (sights.first(), sights.last(), sights.len()) else {
            let span = keys.key_span("sights").unwrap_or(keys.span());
            let message = format!("A run of levels has two or more sights; here are {}.", sights.len());
            let help = "Write `[{ at = \"bm\", back = \"4.32 ft\" }, { at = \"sill\", fore = \"2.2 ft\" }]`.";
            return reader.fault_help("plan::sights", message, span, "too few", help);
        };
        let mut sound = true;
        let mut wrong = |at: crate::Span, message: String, beside: &str, help: &str| {
            sound = false;
            reader.tell(Fault::new("plan::sights", message, at, beside).with_help(help));
        };
        if let Some(fore) = &first.fore {
            let help = "The first has only `back`: the line of sight is found from it.";
            wrong(fore.span, "The first sight has a foresight.".to_owned(), "nothing comes before", help);
        }
        if let Some(back) = &last.back {
            let help = "The last has only `fore`; leave out the backsight, or add what was read next.";
            wrong(back.span, "The last sight has a backsight.".to_owned(), "nothing follows", help);
        }
        if first.back.is_none() {
            let help = "Add `back = \"4.32 ft\"`, and take out `fore`.";
            wrong(first.point.span, "The first sight has no backsight.".to_owned(), "no `back`", help);
        }
        for sight in sights.iter().skip(1).filter(|sight| sight.fore.is_none()) {
            let help = "Only the first point goes without `fore`; add what was read from the set-up before.";
            let message = format!("The sight at `{}` has no foresight.", super::ids::in_words(&sight.point));
            wrong(sight.point.span, message, "no `fore`", help);
        }
        sound.then_some(Reading::LevelRun(LevelRun { sights }))
    }
}
