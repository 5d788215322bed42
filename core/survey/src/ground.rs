//! Levels of the ground, and the lines along which it breaks, before they are made a surface.

mod gather;
mod look;
mod run;
pub(crate) mod stated;

use groundrule_plan::{Name, Span};
use groundrule_units::{Length, LevelTerm};

pub(crate) use self::gather::gather;
pub(crate) use self::look::look;
use crate::{Point, SourceId};

/// Which ground a level is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Surface {
    /// The ground as it lies.
    Existing,
    /// The ground as it shall be.
    Proposed,
}

/// A level of the ground at a place.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundLevel {
    /// Where it was taken.
    pub at: Point,
    /// How high, over the datum of the plan.
    pub height: Length,
    /// How far one standard deviation of each source moves it, in order of source.
    pub error: Vec<(SourceId, Length)>,
    /// Of which ground.
    pub surface: Surface,
    /// What it was said to be the level of.
    pub term: Option<LevelTerm>,
    /// What to call it: `house.ne`, `spot-3`.
    pub name: Name,
    /// The feature it is stated of, by its index in the plan; none for a point by itself.
    pub feature: Option<u32>,
    /// True where it follows from others of its line and is not stated itself: further vertices of a contour, corners
    /// and points of curves between two levels.
    pub derived: bool,
    /// Where in the file.
    pub span: Span,
}

/// What a line of levels is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum GroundLineKind {
    /// Ground of one level all along.
    Contour,
    /// The slope changes at it: a top or a foot of a bank, an edge of paving, the bottom of a swale.
    Break,
    /// The ground on the high side of a wall.
    WallTop,
    /// The ground on its low side.
    WallFoot,
}

/// A line of levels; the ground between two neighbours on it is straight.
#[derive(Clone, Debug, PartialEq)]
pub struct GroundLine {
    /// Its levels in order, by index among [`Ground::levels`].
    pub levels: Vec<u32>,
    /// True when the last runs on to the first.
    pub closed: bool,
    /// What it is.
    pub kind: GroundLineKind,
    /// Of which ground.
    pub surface: Surface,
    /// The feature it is of, by its index in the plan.
    pub feature: u32,
}

/// Everything the plan says of how high the ground is.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ground {
    /// Levels: of features in the order of the file, those of one line together, then of `[ground]`, then measured heights.
    pub levels: Vec<GroundLevel>,
    /// Lines of them.
    pub lines: Vec<GroundLine>,
    /// What all of them count from, as the plan names it.
    pub datum: Option<String>,
}
