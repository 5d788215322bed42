//! The sections of the plan file, one file each: what may be written, and how it becomes the typed plan.
//!
//! To add a section: a file here with a [`crate::table!`], and a key in [`PlanFile`].

pub(crate) mod accuracy;
pub(crate) mod attributes;
pub(crate) mod boxes;
pub(crate) mod declared;
pub(crate) mod feature;
pub(crate) mod geometry;
pub(crate) mod lot;
pub(crate) mod path;
pub(crate) mod place;
pub(crate) mod point;
pub(crate) mod reference;
pub(crate) mod sense;
pub(crate) mod sheet;
pub(crate) mod sides;
pub(crate) mod site;
pub(crate) mod vertex;

use std::collections::BTreeSet;

use crate::model::{AccuracyClass, Plan};
use crate::reader::{Map, OneOrMore, Reader};
use crate::{At, Name, Source};

crate::table! {
    /// A plan: a place, how well it was measured, and what stands on it.
    pub(crate) table PlanFile {
        /// Facts of the place and of the application.
        required site: site::SiteTable,
        /// Classes of measuring: for each a name and the plus-or-minus that holds 95 times in a hundred. `"0"` is
        /// exact, as designed.
        optional accuracy: Map<AccuracyClass>,
        /// Points with names, to set other things out from.
        optional points: Map<point::WrittenPoint>,
        /// The lot; `[[lot]]` with an `id` each when there are several.
        optional lot: OneOrMore<lot::WrittenLot>,
        /// Everything on the lot, one `[[feature]]` each.
        optional feature: feature::Features,
        /// What is there or not there, whether drawn or not, so that silence is not taken for absence.
        optional declared: declared::Declared,
        /// What the sheet itself states.
        optional sheet: sheet::SheetTable,
    }
}

/// A plan being put together, with every name the file uses, whether or not what it names could be read.
///
/// What is named but could not be read has its fault already; what refers to it is not called unknown as well.
pub(crate) struct Draft {
    /// What could be read.
    pub(crate) plan: Plan,
    /// The names of points.
    pub(crate) points: BTreeSet<Name>,
    /// The names of lots and features, each with its place, in file order within lots and within features.
    pub(crate) ids: Vec<At<Name>>,
    /// The names of accuracy classes.
    pub(crate) classes: BTreeSet<Name>,
}

impl PlanFile {
    /// The parts as one plan.
    pub(crate) fn draft(self, source: &Source, reader: &mut Reader<'_>) -> Draft {
        let points = self.points.map(|map| map.0).unwrap_or_default();
        let classes = self.accuracy.map(|map| map.0).unwrap_or_default();
        let mut ids = Vec::new();
        let lots = lot::lots(self.lot.map(|lots| lots.0).unwrap_or_default(), &mut ids, reader);
        let features = self.feature.map(|features| features.0).unwrap_or_default();
        ids.extend(features.iter().filter_map(|feature| feature.id.clone()));
        Draft {
            points: points.iter().map(|(name, _)| name.value.clone()).collect(),
            classes: classes.iter().map(|(name, _)| name.value.clone()).collect(),
            ids,
            plan: Plan {
                source: source.clone(),
                site: self.site.map_or_else(site::nowhere, |site| site.facts(reader)),
                accuracy: classes
                    .into_iter()
                    .filter_map(|(name, class)| Some((name.value, class?)))
                    .collect(),
                points: points.into_iter().filter_map(|(name, point)| Some(point?.named(name))).collect(),
                measurements: Vec::new(),
                lots,
                features: features.into_iter().filter_map(|written| written.feature).collect(),
                declared: self.declared.map(|declared| declared.0).unwrap_or_default(),
                sheet: self.sheet.map(sheet::SheetTable::sheet).unwrap_or_default(),
                remarks: Vec::new(),
            },
        }
    }
}
