//! `[ground]`: what is said of the levels of the ground as a whole, and of those at points.

use super::measured::by_point::ByPoint;
use crate::At;
use crate::model::{Accuracy, GroundFacts, GroundMark, PointRef};
use crate::reader::{LevelOrLevels, Read, Reader, Shape, Value};

crate::table! {
    /// What all levels of the plan count from, how well they were taken, and levels of the ground at points and corners
    /// that have a place already. Levels along lines and around things stand with these, under `levels`.
    pub(crate) table GroundTable {
        /// The one datum that all levels count from, by its name: `"assumed, 100.00 at the corner of the stoop"`.
        optional datum: At<String>,
        /// How well levels of the ground as it lies were taken; as `site.by` when absent. Proposed ones are exact.
        optional by: Accuracy,
        /// Points whose measured heights are of something else than the ground. Features of kind `benchmark`, doors and
        /// windows never are, nor points that have `bm`, `tbm`, `benchmark`, `ff`, `ffe`, `floor` or `sill` as a word
        /// of their name.
        optional not_ground: Vec<PointRef>,
        /// Levels of the ground at points, at corners of features and lots: `{ house.ne = "FG 100.40", oak = ["EG 99.8",
        /// "FG 100.1"] }`. One that does not say `EG` or `FG` is of the ground as it lies, or of the proposed ground at
        /// a corner of what is proposed.
        optional levels: ByPoint<LevelOrLevels>,
    }
}

/// What the section says.
#[derive(Debug)]
pub(crate) struct WrittenGround(pub(crate) GroundFacts);

impl Read for WrittenGround {
    fn shape() -> Shape {
        GroundTable::shape()
    }

    fn read(value: &Value<'_>, reader: &mut Reader<'_>) -> Option<Self> {
        let table = GroundTable::read(value, reader)?;
        let levels = table.levels.map(|levels| levels.0).unwrap_or_default();
        let levels = levels.into_iter().flat_map(|(point, levels)| {
            levels.value.0.into_iter().map(move |level| GroundMark { point: point.clone(), level })
        });
        Some(Self(GroundFacts {
            datum: table.datum,
            by: table.by,
            not_ground: table.not_ground.unwrap_or_default(),
            levels: levels.collect(),
            span: table.span,
        }))
    }
}
