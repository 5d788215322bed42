//! `[[distance]]`: one distance between two points.

use super::{Measured, differ};
use crate::model::{Accuracy, Distance, Lengths, PointRef, Reading};
use crate::reader::{Keys, Reader};
use crate::{At, Name};

crate::table! {
    /// One distance between two points: a diagonal, or the length of a lot line from the record.
    pub(crate) table DistanceTable {
        /// From here.
        required from: PointRef,
        /// To here.
        required to: PointRef,
        /// The horizontal distance.
        required read: Lengths,
        /// How well it was measured; as `site.by` when absent.
        optional by: Accuracy,
        /// Its name in reports; when absent `distance-sw-ne`, by its two points.
        optional id: At<Name>,
    }
}

impl Measured for DistanceTable {
    const SECTION: &'static str = "distance";

    fn common(&self) -> (Option<At<Name>>, Option<Accuracy>) {
        (self.id.clone(), self.by.clone())
    }

    fn reading(self, _: &Keys<'_, '_>, reader: &mut Reader<'_>) -> Option<Reading> {
        let (from, to, length) = (self.from?, self.to?, self.read?);
        differ(&from, &to, "The distance", reader).then_some(Reading::Distance(Distance { from, to, length }))
    }
}
