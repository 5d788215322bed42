//! What was measured in the field, off a picture or out of a record: the readings that points are worked out from.
//!
//! Every reading keeps its place in the file and its own accuracy, so that whoever works the points out can say
//! which reading is to blame.

use groundrule_units::{Angle, Bearing, CircularCurve, Length, Ratio, Written};

use super::{Accuracy, At, Name, PointRef, WallRef};
use crate::Span;

/// One entry of the file under `[[chain]]`, `[[tie]]` and so on.
#[derive(Clone, Debug, PartialEq)]
pub struct Measurement {
    /// Its id, made of what it measures: `chain-sw-se`, `tie-oak`; unique in the plan and the same after edits elsewhere.
    pub id: Name,
    /// What was read.
    pub reading: Reading,
    /// How well; the plan's default class when absent. A stated fact without one is exact.
    pub by: Option<Accuracy>,
    /// Where in the file.
    pub span: Span,
}

/// What was read.
#[derive(Clone, Debug, PartialEq)]
pub enum Reading {
    /// Dimensions one after another along a line.
    Chain(Chain),
    /// Stations and offsets from a baseline.
    Offsets(Offsets),
    /// Distances to one point from points that are known.
    Tie(Tie),
    /// Bearings and distances from point to point.
    Traverse(Traverse),
    /// One distance between two points.
    Distance(Distance),
    /// One angle.
    Angle(AngleReading),
    /// Something that is so: square, parallel, straight, equal.
    Fact(Fact),
    /// The height of a point.
    Height(Height),
    /// How far one point lies below another.
    Fall(Fall),
    /// Sights from a level set up between points.
    LevelRun(LevelRun),
}

/// A length as measured, as recorded, or both: `65.8' (M)` against `66.00' (R)`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lengths {
    /// As measured; what has no mark was measured.
    pub measured: Option<At<Written<Length>>>,
    /// As recorded.
    pub record: Option<At<Written<Length>>>,
}

/// Dimensions one after another along a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Chain {
    /// The line it runs along, where that is not the line from its first mark to its last.
    pub along: Option<WallRef>,
    /// Its first mark.
    pub start: PointRef,
    /// The pieces, each with the mark it ends at; the last always has one.
    pub pieces: Vec<Piece>,
    /// True when it was written as running figures from the first mark; `pieces` hold the running figures then.
    pub running: bool,
    /// From the first mark to the last, measured by itself: the check.
    pub overall: Lengths,
    /// True when the marks stand off the line, each read where a square from the line meets it.
    pub abreast: bool,
}

/// One piece of a chain.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Its length; of a running chain, the figure at its end.
    pub length: At<Written<Length>>,
    /// The mark it ends at, if that has a name.
    pub to: Option<PointRef>,
}

/// Stations and offsets from a baseline.
#[derive(Clone, Debug, PartialEq)]
pub struct Offsets {
    /// The baseline.
    pub along: WallRef,
    /// Each point with how far along and how far off it stands.
    pub points: Vec<Offset>,
}

/// A point by station and offset.
#[derive(Clone, Debug, PartialEq)]
pub struct Offset {
    /// The point.
    pub point: PointRef,
    /// Along the baseline from its first point.
    pub station: At<Written<Length>>,
    /// Off it, positive to the left of its direction.
    pub offset: At<Written<Length>>,
}

/// Distances to one point from points that are known.
#[derive(Clone, Debug, PartialEq)]
pub struct Tie {
    /// The point.
    pub point: PointRef,
    /// From each known point, in file order.
    pub from: Vec<(PointRef, At<Written<Length>>)>,
    /// On which side of the line between the known points it stands, if said.
    pub side: Option<At<TieSide>>,
}

/// On which side of the line between the points it is tied to a point stands.
#[derive(Clone, Debug, PartialEq)]
pub enum TieSide {
    /// Towards one side of the sheet.
    Sheet(SheetSide),
    /// Towards a direction over the ground.
    Ground(Bearing),
    /// To the left of a wall, as one goes along it.
    LeftOf(WallRef),
    /// To its right.
    RightOf(WallRef),
    /// The side a rough position is on.
    Near {
        /// To the right on the sheet.
        x: Written<Length>,
        /// Up the sheet.
        y: Written<Length>,
    },
}

/// A side of the sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetSide {
    /// Towards its top.
    Up,
    /// Towards its bottom.
    Down,
    /// Towards its left.
    Left,
    /// Towards its right.
    Right,
}

/// Bearings and distances from point to point.
#[derive(Clone, Debug, PartialEq)]
pub struct Traverse {
    /// Where it begins.
    pub start: PointRef,
    /// Its calls in order. It is closed when the last ends where it began.
    pub calls: Vec<Call>,
}

/// One call of a traverse.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// The point it ends at.
    pub to: PointRef,
    /// How it goes there.
    pub course: Course,
    /// Where in the file.
    pub span: Span,
}

/// The course of a call.
#[derive(Clone, Debug, PartialEq)]
pub enum Course {
    /// Straight.
    Straight {
        /// The direction, counted from the plan's north.
        bearing: At<Written<Bearing>>,
        /// The horizontal distance.
        distance: At<Written<Length>>,
    },
    /// Along a circular arc.
    Curve {
        /// The arc, from any two of its figures.
        curve: At<CircularCurve>,
        /// True when it turns left.
        left: bool,
        /// The direction of its chord; without one it leaves in the direction of the call before.
        chord_bearing: Option<At<Written<Bearing>>>,
    },
}

/// One distance between two points.
#[derive(Clone, Debug, PartialEq)]
pub struct Distance {
    /// From here.
    pub from: PointRef,
    /// To here.
    pub to: PointRef,
    /// How far.
    pub length: Lengths,
}

/// One angle.
#[derive(Clone, Debug, PartialEq)]
pub struct AngleReading {
    /// Where the instrument stands.
    pub at: PointRef,
    /// The point it is turned from.
    pub from: PointRef,
    /// The point it is turned to.
    pub to: PointRef,
    /// How far.
    pub turn: At<Turn>,
}

/// How far an angle turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Turn {
    /// Said with its sense: anticlockwise positive.
    Said(Angle),
    /// The angle between the two, at most half a turn, whichever way.
    Between(Angle),
}

/// Something that is so.
#[derive(Clone, Debug, PartialEq)]
pub enum Fact {
    /// Every corner of this outline is a right angle.
    Square(At<Name>),
    /// A right angle at a corner, between its neighbours on the outline, or between two points.
    RightAngle {
        /// The corner.
        at: PointRef,
        /// The points of its two arms; none for a corner of an outline.
        arms: Option<(PointRef, PointRef)>,
    },
    /// Two walls run in the same or in opposite directions.
    Parallel(WallRef, WallRef),
    /// Points stand on one line.
    Straight(Vec<PointRef>),
    /// Two lengths are equal: diagonals of a rectangle.
    Equal(WallRef, WallRef),
}

/// The height of a point over the plan's datum.
#[derive(Clone, Debug, PartialEq)]
pub struct Height {
    /// The point.
    pub point: PointRef,
    /// Its height.
    pub height: At<Written<Length>>,
}

/// How far one point lies below another.
#[derive(Clone, Debug, PartialEq)]
pub struct Fall {
    /// From here.
    pub from: PointRef,
    /// To here.
    pub to: PointRef,
    /// So much lower; negative when it rises.
    pub fall: FallReading,
}

/// How a fall was read.
#[derive(Clone, Debug, PartialEq)]
pub enum FallReading {
    /// As a height.
    Height(At<Written<Length>>),
    /// As a slope, over the distance between the points or over a run that was read with it.
    Slope {
        /// Fall by run.
        slope: At<Written<Ratio>>,
        /// The horizontal run; none for the distance between the two points.
        run: Option<At<Written<Length>>>,
    },
}

/// Sights from a level.
#[derive(Clone, Debug, PartialEq)]
pub struct LevelRun {
    /// The staff positions in order.
    pub sights: Vec<Sight>,
}

/// The readings with the staff at one point.
#[derive(Clone, Debug, PartialEq)]
pub struct Sight {
    /// Where the staff stands.
    pub point: PointRef,
    /// Read last from the set-up before, or between its first and last: the point's height is the line of sight less this.
    pub fore: Option<At<Written<Length>>>,
    /// Read first from the next set-up.
    pub back: Option<At<Written<Length>>>,
}
