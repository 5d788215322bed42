//! The resolved plan: every vertex a position with its error.

use std::collections::BTreeMap;

use groundrule_plan::{Name, Role, Span};
use groundrule_units::Length;

use crate::{ErrorTerms, SourceId};

/// A place on the sheet, from the local origin.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Position {
    /// To the right on the sheet.
    pub x: Length,
    /// Up the sheet.
    pub y: Length,
}

/// A position and how well it is known.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Point {
    /// Where.
    pub at: Position,
    /// How well.
    pub error: ErrorTerms,
}

/// The shape of a feature, curves turned into short chords.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A closed outline with holes; no ring repeats its first point.
    Outline {
        /// The outer ring, anticlockwise.
        ring: Vec<Point>,
        /// Holes, clockwise.
        holes: Vec<Vec<Point>>,
    },
    /// A line with a width.
    Line {
        /// Its vertices.
        path: Vec<Point>,
        /// Its full width; zero for a bare line.
        width: Length,
    },
    /// A point.
    Spot(Point),
    /// A circle.
    Disc {
        /// Its centre.
        centre: Point,
        /// Its radius.
        radius: Length,
    },
    /// Stated but not drawn, or left out because its outline was wrong.
    Absent,
}

/// One side of a lot, resolved.
#[derive(Clone, Debug, PartialEq)]
pub struct ResolvedSide {
    /// Its name within the lot.
    pub name: Name,
    /// Its vertices from end to end, along the ring, the lot on the left.
    pub path: Vec<Point>,
    /// Its role, if known.
    pub role: Option<Role>,
    /// True when the role was proposed by the program.
    pub assumed: bool,
    /// The street along it.
    pub street: Option<String>,
    /// Where in the file.
    pub span: Span,
}

/// A lot, resolved.
#[derive(Clone, Debug, PartialEq)]
pub struct ResolvedLot {
    /// Its ring, anticlockwise.
    pub ring: Vec<Point>,
    /// Its sides in ring order.
    pub sides: Vec<ResolvedSide>,
}

/// What a pair of error sources belongs to, for saying what to measure again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SourceOwner {
    /// The first of its sources.
    pub first: SourceId,
    /// What was read: `house corner sw`, `width of shed`.
    pub reading: String,
    /// The accuracy class as written.
    pub class: String,
    /// Where in the file.
    pub span: Span,
}

/// Every place of a plan resolved, in one local frame.
#[derive(Clone, Debug, Default)]
pub struct Layout {
    /// What to add to a position to get the coordinates as written; far coordinates are shifted near zero.
    pub shift: Position,
    /// One per lot of the plan.
    pub lots: Vec<ResolvedLot>,
    /// One per feature of the plan.
    pub shapes: Vec<Shape>,
    /// Positions of named points and corners, by their full name: `oak`, `house.ne`.
    pub named: BTreeMap<String, Point>,
    /// What the error sources belong to, in order of their first source.
    pub sources: Vec<SourceOwner>,
}
