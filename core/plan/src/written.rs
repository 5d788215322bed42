//! The sections of the plan file, one file each: what may be written, and how it becomes the typed plan.
//!
//! To add a section: a file here with a [`crate::table!`], and a key in [`PlanFile`].

pub(crate) mod accuracy;
pub(crate) mod angles;
pub(crate) mod attributes;
pub(crate) mod boxes;
pub(crate) mod declared;
pub(crate) mod feature;
pub(crate) mod geometry;
pub(crate) mod ground;
pub(crate) mod lot;
pub(crate) mod measured;
pub(crate) mod path;
pub(crate) mod place;
pub(crate) mod point;
pub(crate) mod reference;
pub(crate) mod sense;
pub(crate) mod sheet;
pub(crate) mod sides;
pub(crate) mod site;
pub(crate) mod usual;
pub(crate) mod vertex;

use std::collections::BTreeSet;

use measured::{PointName, Section, angle, chain, distance, fact, level, offsets, tie, traverse};

use crate::model::Plan;
use crate::reader::{Map, OneOrMore, Reader};
use crate::{At, Name, Source};

crate::table! {
    /// A plan: a place, how well it was measured, and what stands on it.
    pub(crate) table PlanFile {
        /// Facts of the place and of the application.
        required site: site::SiteTable,
        /// Classes of measuring: for each a name and the plus-or-minus that holds 95 times in a hundred. `"0"` is
        /// exact, as designed. The [usual classes](#usual-classes) can be named in `by` without being written here; one
        /// that is written here has these figures, and its usual ones for what is left out.
        optional accuracy: Map<accuracy::WrittenClass>,
        /// Points with names, to set other things out from.
        optional points: Map<point::WrittenPoint>,
        /// Dimensions one after another along a line, with an overall as the check: `read = ["sw", "10 ft", "house.sw",
        /// "52 ft", "se"]`, `overall = "62 ft"`.
        optional chain: Section<chain::ChainTable>,
        /// Stations and offsets from a baseline: `along = "house.nw-ne"`, `points = { bed.a = ["12 ft", "6 ft left"] }`.
        optional offsets: Section<offsets::OffsetsTable>,
        /// A point by its distances from others, two tapes to a tree: `point = "oak"`, `from = { house.ne = "36.1 ft",
        /// house.nw = "31.6 ft" }`, `side = "north"`. Two circles meet twice, so the side is said.
        optional tie: Section<tie::TieTable>,
        /// Bearings and distances from point to point, as a deed calls them: `from = "sw"`, `calls = [{ to = "nw", bearing =
        /// "N 4°30' E", distance = "132.00 ft" }]`. It is closed when the last call ends where it began.
        optional traverse: Section<traverse::TraverseTable>,
        /// Single distances, such as a diagonal: `from = "sw"`, `to = "ne"`, `read = "133.3 ft"`.
        optional distance: Section<distance::DistanceTable>,
        /// Single angles: `at = "b"`, `from = "a"`, `to = "c"`, `turn = "91°30' clockwise"`.
        optional angle: Section<angle::AngleTable>,
        /// What is so: `square = "house"`. Exactly one of `square`, `right_angle`, `parallel`, `straight` and `equal` each.
        optional fact: Section<fact::FactTable>,
        /// Heights and falls: `point = "bm"`, `height = "100.00 ft"`; or `from = "sill"`, `to = "drain"`, `fall = "4 in"`.
        optional level: Section<level::LevelTable>,
        /// Sights from a level set up between points: `sights = [{ at = "bm", back = "4.32 ft" }, { at = "tp", fore =
        /// "5.10 ft", back = "3.21 ft" }, { at = "sill", fore = "2.2 ft" }]`.
        optional level_run: Section<level::LevelRunTable>,
        /// The lot; `[[lot]]` with an `id` each when there are several.
        optional lot: OneOrMore<lot::WrittenLot>,
        /// Everything on the lot, one `[[feature]]` each.
        optional feature: feature::Features,
        /// What is there or not there, whether drawn or not, so that silence is not taken for absence.
        optional declared: declared::Declared,
        /// What the sheet itself states. Packs ask for it as the kind `sheet`, of which every plan has one.
        optional sheet: sheet::WrittenSheet,
        /// The levels of the ground: what they count from, how well they were taken, and those at points.
        optional ground: ground::WrittenGround,
    }
}

/// A plan being put together, with every name the file uses, whether or not what it names could be read.
///
/// What is named but could not be read has its fault already; what refers to it is not called unknown as well.
pub(crate) struct Draft {
    /// What could be read.
    pub(crate) plan: Plan,
    /// The names of points under `[points]`.
    pub(crate) points: BTreeSet<Name>,
    /// Points that measurements which could not be read may have named.
    pub(crate) doubtful: BTreeSet<PointName>,
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
        let mut entries = Vec::new();
        take(self.chain, &mut entries);
        take(self.offsets, &mut entries);
        take(self.tie, &mut entries);
        take(self.traverse, &mut entries);
        take(self.distance, &mut entries);
        take(self.angle, &mut entries);
        take(self.fact, &mut entries);
        take(self.level, &mut entries);
        take(self.level_run, &mut entries);
        let mut ids = Vec::new();
        let lots = lot::lots(self.lot.map(|lots| lots.0).unwrap_or_default(), &mut ids, reader);
        let features = self.feature.map(|features| features.0).unwrap_or_default();
        ids.extend(features.iter().filter_map(|feature| feature.id.clone()));
        let doubtful = entries.iter().flat_map(|entry| entry.doubtful.iter().cloned()).collect();
        let measurements = measured::ids::named(entries, &ids, reader);
        Draft {
            doubtful,
            points: points.iter().map(|(name, _)| name.value.clone()).collect(),
            classes: classes.iter().map(|(name, _)| name.value.clone()).collect(),
            ids,
            plan: Plan {
                source: source.clone(),
                site: self.site.map_or_else(site::nowhere, |site| site.facts(reader)),
                accuracy: classes
                    .into_iter()
                    .filter_map(|(name, class)| {
                        let class = class?.named(&name.value);
                        Some((name.value, class))
                    })
                    .collect(),
                points: points.into_iter().filter_map(|(name, point)| Some(point?.named(name))).collect(),
                measurements,
                lots,
                features: features.into_iter().filter_map(|written| written.feature).collect(),
                declared: self.declared.map(|declared| declared.0).unwrap_or_default(),
                sheet: self.sheet.map(|sheet| sheet.0).unwrap_or_default(),
                ground: self.ground.map(|ground| ground.0).unwrap_or_default(),
                remarks: Vec::new(),
            },
        }
    }
}

fn take<T>(section: Option<Section<T>>, entries: &mut Vec<measured::Entry>) {
    entries.extend(section.into_iter().flat_map(|section| section.entries));
}
