//! Where water runs on the ground.

use super::terrain::Grade;
use crate::{Amounts, Feature, Place};

/// Ground that no water leaves but over its rim.
#[derive(Clone, Debug, PartialEq)]
pub struct Hollow<A> {
    /// From its bottom to the lowest place of its rim.
    pub depth: A,
    /// The water's edge when it is full.
    pub area: A,
    /// What it holds.
    pub volume: A,
    /// The lowest place.
    pub bottom: Place,
    /// The place where it runs over.
    pub spill: Place,
    /// The one it is part of, by its place in the list.
    pub inside: Option<u32>,
}

/// Where water ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Outcome {
    /// At one of the features asked for.
    At(Feature),
    /// At the wall of a building.
    Building(Feature),
    /// In a hollow, or on level ground.
    Stands,
    /// Over this line of the lot.
    Over(Feature),
    /// Where the levels of the plan end, still on the lot.
    BeyondLevels,
    /// It begins where the plan has no levels.
    Unknown,
}

/// The way of water.
#[derive(Clone, Debug, PartialEq)]
pub struct Course<A> {
    /// Where it ends.
    pub outcome: Outcome,
    /// How far it runs.
    pub length: A,
    /// How far it falls.
    pub fall: A,
    /// Its places.
    pub path: Vec<Place>,
    /// The features it runs over on its way, in order.
    pub over: Vec<Feature>,
}

/// Running water. Where the plan has no surface of the ground, lists come back empty.
pub trait Drainage: Amounts {
    /// The hollows whose bottom lies within a feature, those that one of the drains empties left out.
    fn hollows(&self, of: Grade, within: Feature, drains: &[Feature]) -> Vec<Hollow<Self::Amount>>;
    /// The depth of the deepest hollow within each feature, negative where there is none by how much the ground would
    /// have to change for one.
    fn deepest(&self, of: Grade, within: &[Feature], drains: &[Feature]) -> Vec<Self::Amount>;
    /// For each feature, the way of water from each of its places. `past` is what is told where water runs over it.
    fn courses(
        &self,
        of: Grade,
        from: &[Feature],
        ends: &[Feature],
        past: &[Feature],
        overflow: bool,
    ) -> Vec<Vec<Course<Self::Amount>>>;
    /// How sure it is that water from the first of each pair keeps clear of the second, as a number of standard
    /// uncertainties: negative where it runs there.
    fn keeps_clear(&self, of: Grade, pairs: &[(Feature, Feature)]) -> Vec<Self::Amount>;
    /// The area of a lot from which water leaves over each of its lines.
    fn leaves_over(&self, of: Grade, lot: Feature) -> Vec<(Feature, Self::Amount)>;
    /// The area within a feature whose water ends at each of some others.
    fn drained_area(&self, of: Grade, within: Feature, ends: &[Feature]) -> Vec<Self::Amount>;
}
