//! Which way north lies on the sheet.

use crate::Angle;

/// Which of the norths a text means.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum NorthKind {
    /// Nothing said.
    #[default]
    Unsaid,
    /// Toward the pole.
    True,
    /// Up the grid of a map projection; within about 2 degrees of true.
    Grid,
    /// Where a compass points; between 20 degrees west and 15 east of true in the United States.
    Magnetic,
}

/// The direction of north on the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Orientation {
    /// The direction of north, turned clockwise from the top of the sheet.
    pub clockwise_of_up: Angle,
    /// Which north.
    pub north: NorthKind,
}
