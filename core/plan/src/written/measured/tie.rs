//! `[[tie]]`: distances to one point from points that are known.

use groundrule_units::{Angle, Bearing, Length, Written};

use super::by_point::ByPoint;
use super::{Measured, differ};
use crate::model::{Accuracy, PointRef, Reading, SheetSide, Tie, TieSide};
use crate::reader::{Form, Keys, Read, Reader, Shape, Size, Value, quote, span_of};
use crate::written::place::Pair;
use crate::written::reference::wall_splits;
use crate::{At, Fault, Name};

crate::table! {
    /// One point by its distances from others: two tapes to a tree. Two circles meet twice, so the side is said.
    pub(crate) table TieTable {
        /// The point that is tied: a tree, a corner.
        required point: PointRef,
        /// The distance from each known point.
        required from: ByPoint<Size>,
        /// On which side of the line between the known points it stands.
        optional side: At<TieSide>,
        /// Roughly where it stands, instead of the side.
        optional near: At<Pair>,
        /// How well the distances were measured; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `tie-oak`, by its point.
        optional id: At<Name>,
    }
}

/// Compass words with their azimuths in degrees, written without hyphen or space.
const COMPASS: [(&str, f64); 16] = [
    ("north", 0.0),
    ("northeast", 45.0),
    ("east", 90.0),
    ("southeast", 135.0),
    ("south", 180.0),
    ("southwest", 225.0),
    ("west", 270.0),
    ("northwest", 315.0),
    ("n", 0.0),
    ("ne", 45.0),
    ("e", 90.0),
    ("se", 135.0),
    ("s", 180.0),
    ("sw", 225.0),
    ("w", 270.0),
    ("nw", 315.0),
];

/// Sides of the sheet, written without `of`, `on` and `the`.
const SHEET: [(&str, SheetSide); 6] = [
    ("up", SheetSide::Up),
    ("up sheet", SheetSide::Up),
    ("down", SheetSide::Down),
    ("down sheet", SheetSide::Down),
    ("left sheet", SheetSide::Left),
    ("right sheet", SheetSide::Right),
];

const SIDES: &str = "Write `north` or another compass word, `up the sheet`, or `left of house.nw-ne`.";

impl Read for TieSide {
    fn shape() -> Shape {
        Shape::Form(Form {
            name: "side",
            doc: "A compass word (`north`, `south-west`); a side of the sheet (`up the sheet`, `left on the sheet`); or \
                  the side of a wall as one walks along it (`left of house.nw-ne`).",
            example: "\"north\"",
            of: Box::new(Shape::Text("north")),
        })
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let Some(text) = value.get_ref().as_str() else {
            return reader.wrong_type::<Self, _>(value);
        };
        let span = span_of(value);
        let lower = text.trim().to_lowercase();
        let compass = lower.replace(['-', ' '], "");
        if let Some((_, azimuth)) = COMPASS.iter().find(|(word, _)| *word == compass) {
            return Some(Self::Ground(Bearing::from_azimuth(Angle::from_degrees(*azimuth))));
        }
        let words: Vec<&str> =
            lower.split_whitespace().filter(|word| !["of", "on", "the"].contains(word)).collect();
        let plain = words.join(" ");
        if let Some((_, side)) = SHEET.iter().find(|(word, _)| *word == plain) {
            return Some(Self::Sheet(*side));
        }
        if plain == "left" || plain == "right" {
            let message = format!("{} of what?", quote(text.trim()));
            let help =
                format!("Write `{plain} on the sheet`, or `{plain} of house.nw-ne` as one walks along.");
            return reader.fault_help("plan::question", message, span, "more than one meaning", help);
        }
        let wall = ["left", "right"].into_iter().find_map(|side| {
            let of = lower.strip_prefix(side)?.trim_start().strip_prefix("of ")?;
            let start = text.trim().len().checked_sub(of.len())?;
            let wall = wall_splits(text.trim().get(start..)?.trim(), span).into_iter().next()?;
            Some(if side == "left" { Self::LeftOf(wall) } else { Self::RightOf(wall) })
        });
        wall.or_else(|| {
            let message = format!("{} does not say a side.", quote(text));
            reader.fault_help("plan::bad-side", message, span, "not understood", SIDES)
        })
    }
}

impl Measured for TieTable {
    const SECTION: &'static str = "tie";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let side = match [keys.key_span("side"), keys.key_span("near")] {
            [None, None] => None,
            [Some(_), None] => Some(self.side?),
            [None, Some(_)] => {
                let near = self.near?;
                let Pair { x, y } = near.value;
                Some(At { value: TieSide::Near { x, y }, span: near.span })
            }
            [Some(side), Some(near)] => {
                let message = "The side of the tie is said in 2 ways.";
                let fault = Fault::new("plan::several-readings", message, side, "one way");
                reader.tell(fault.with_label(near, "another").with_help("Keep `side` or `near`."));
                return None;
            }
        };
        let from: Vec<(PointRef, At<Written<Length>>)> = self
            .from?
            .0
            .into_iter()
            .map(|(from, length)| (from, At { value: length.value.0, span: length.span }))
            .collect();
        let point = self.point?;
        if from.is_empty() {
            let span = keys.key_span("from").unwrap_or(keys.span());
            let message = "The tie has no distance.";
            let help = "Write `from = { house.ne = \"36.1 ft\", house.nw = \"31.6 ft\" }`.";
            return reader.fault_help("plan::no-reading", message, span, "empty", help);
        }
        let mut sound = true;
        for (from, _) in &from {
            sound &= differ(&point, from, "The tie", reader);
        }
        sound.then_some(Reading::Tie(Tie { point, from, side }))
    }
}
