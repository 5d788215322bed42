//! The surface of the ground: levels, slopes, faces, earth to be moved.

use groundrule_units::{Length, Ratio};

use crate::{Amounts, Feature};

/// Which ground.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Grade {
    /// As it lies.
    Existing,
    /// As it shall be: as it lies, where nothing changes.
    Proposed,
}

/// Which figure of many.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Figure {
    /// The least. Slopes along a line count positive where it falls the way it is drawn.
    Least,
    /// The greatest.
    Greatest,
    /// The mean: by length along a line, by area over an area.
    Mean,
    /// Along a line, the one farthest from level, without its sign.
    Steepest,
    /// Along a line, the one nearest to level, without its sign.
    Flattest,
}

/// What the ground beside one side of a building does.
#[derive(Clone, Debug, PartialEq)]
pub struct WallFall<A> {
    /// How far it falls by how far it was followed.
    pub slope: A,
    /// How far it falls.
    pub fall: A,
    /// How far it was followed, square to the wall.
    pub run: A,
    /// The paving at the wall there; none for soil.
    pub hard: Option<Feature>,
    /// What is nearer than the distance asked for, and where the fall was ended.
    pub cut_short: Option<Feature>,
}

/// A face of the ground steeper than asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Face<A> {
    /// The line along its foot, which a reading must not name.
    pub toe: Feature,
    /// The line along its top, likewise.
    pub crest: Feature,
    /// From the lowest of the foot to the highest of the top.
    pub height: A,
    /// Its steepest slope.
    pub slope: A,
}

/// Earth to be moved.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved<A> {
    /// To be taken away.
    pub cut: A,
    /// To be brought in.
    pub fill: A,
}

/// The ground.
pub trait Terrain: Amounts {
    /// True when the plan has levels enough for a surface of this ground.
    fn known(&self, of: Grade) -> bool;
    /// The level of the ground along each feature: of an area around its edge, of a spot where it is.
    fn level(&self, of: Grade, features: &[Feature], figure: Figure) -> Vec<Self::Amount>;
    /// The slope of the ground inside each area, however it is turned.
    fn slope_over(&self, of: Grade, areas: &[Feature], figure: Figure) -> Vec<Self::Amount>;
    /// The direction in which the ground of each area falls on the whole, clockwise from true north; none where it is level.
    fn aspect(&self, of: Grade, areas: &[Feature]) -> Vec<Option<Self::Amount>>;
    /// The slope along each line between two stations; an end of zero is the end of the line.
    fn slope_along(
        &self,
        of: Grade,
        lines: &[Feature],
        figure: Figure,
        stations: (Length, Length),
    ) -> Vec<Self::Amount>;
    /// The slope square to each line, positive where the ground falls to its right.
    fn slope_across(&self, of: Grade, lines: &[Feature], figure: Figure) -> Vec<Self::Amount>;
    /// The greatest change of slope along each line between stretches of at least a length.
    fn slope_break(&self, of: Grade, lines: &[Feature], stretch: Length) -> Vec<Self::Amount>;
    /// The least fall away from each side of a building, for each ground there is at the side.
    fn falls(
        &self,
        of: Grade,
        building: Feature,
        run: Length,
        barriers: &[Feature],
        hard: &[Feature],
    ) -> Vec<WallFall<Self::Amount>>;
    /// The faces steeper than a slope that lie within a feature, in part at least; none where there is no ground.
    fn faces(&self, of: Grade, within: Feature, steeper_than: Ratio) -> Vec<Face<Self::Amount>>;
    /// The earth to be taken away and brought in to make the existing ground the proposed one.
    fn earthwork(&self, areas: &[Feature]) -> Vec<Moved<Self::Amount>>;
    /// The length of the contours at an interval inside each area.
    fn contour_length(&self, of: Grade, areas: &[Feature], interval: Length) -> Vec<Self::Amount>;
}
