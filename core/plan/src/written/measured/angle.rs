//! `[[angle]]`: one angle between two points, seen from a third.

use super::{Measured, differ, given, one_key};
use crate::model::{Accuracy, AngleReading, PointRef, Reading, Turn};
use crate::reader::{Keys, Reader};
use crate::written::angles::PlainAngle;
use crate::written::sense::SaidTurn;
use crate::{At, Name};

crate::table! {
    /// One angle, seen from a point.
    pub(crate) table AngleTable {
        /// Where the instrument stands: the corner of the angle.
        required at: PointRef,
        /// The point it is turned from.
        required from: PointRef,
        /// The point it is turned to.
        required to: PointRef,
        /// How far it turns, and which way.
        optional turn: At<SaidTurn>,
        /// The angle between the two, at most 180 degrees, whichever way.
        optional between: At<PlainAngle>,
        /// How well it was measured; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `angle-b`, by its corner.
        optional id: At<Name>,
    }
}

impl Measured for AngleTable {
    const SECTION: &'static str = "angle";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, keys: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let ways = ["turn", "between"];
        let turn = match given(keys, &ways) {
            Some("turn") => self.turn.map(|turn| At { value: Turn::Said(turn.value.0), span: turn.span }),
            Some(_) => self.between.map(|angle| At { value: Turn::Between(angle.value.0), span: angle.span }),
            None => {
                let help = "Write `turn = \"91°30' clockwise\"`, or `between = \"88.5 deg\"`.";
                one_key(keys, &ways, "How far the angle turns", help, reader)
            }
        };
        let (at, from, to) = (self.at?, self.from?, self.to?);
        let apart = [(&at, &from), (&at, &to), (&from, &to)];
        let mut sound = true;
        for (a, b) in apart {
            sound &= differ(a, b, "An arm of the angle", reader);
        }
        let turn = turn?;
        sound.then_some(Reading::Angle(AngleReading { at, from, to, turn }))
    }
}
