//! The resolved plan: every vertex a position with its error.

use std::collections::BTreeMap;

use groundrule_plan::{Geometry, Name, Plan, Role, Span};
use groundrule_units::{Length, Quantity};

use crate::{Adjustment, ErrorTerms, Ground, SourceId};

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

impl Shape {
    /// Every point of it.
    pub fn points_mut(&mut self) -> impl Iterator<Item = &mut Point> {
        let (paths, one): (Vec<&mut Vec<Point>>, Option<&mut Point>) = match self {
            Self::Outline { ring, holes } => (std::iter::once(ring).chain(holes).collect(), None),
            Self::Line { path, .. } => (vec![path], None),
            Self::Spot(point) | Self::Disc { centre: point, .. } => (Vec::new(), Some(point)),
            Self::Absent => (Vec::new(), None),
        };
        paths.into_iter().flatten().chain(one)
    }
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
    /// The stated width of that street's right-of-way.
    pub street_width: Option<Length>,
    /// True for a rear line set out inside the lot, which is no edge of it.
    pub inside: bool,
    /// Where in the file.
    pub span: Span,
}

/// How a lot lies to its streets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LotPosition {
    /// On one street.
    Interior,
    /// On streets that meet at one of its corners.
    Corner,
    /// On streets that do not meet at it.
    Through,
    /// On one street, behind a narrow pole that leads to it.
    Flag,
}

impl LotPosition {
    /// The word of facts and formulas.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Interior => "interior",
            Self::Corner => "corner",
            Self::Through => "through",
            Self::Flag => "flag",
        }
    }
}

/// A lot, resolved.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ResolvedLot {
    /// Its ring, anticlockwise.
    pub ring: Vec<Point>,
    /// Its sides in ring order, and after them a rear line set out inside it, if the plan asks for one.
    pub sides: Vec<ResolvedSide>,
    /// How it lies to its streets; none while its front is not known.
    pub position: Option<LotPosition>,
    /// Where the pole of a flag lot ends.
    pub pole: Option<Point>,
}

/// Whose reading an error comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Owner {
    /// A named point, by its index in the plan.
    Point(u32),
    /// A lot, by its index in the plan.
    Lot(u32),
    /// A feature, by its index in the plan.
    Feature(u32),
    /// A measurement, by its index in the plan.
    Measurement(u32),
    /// A right angle taken for want of a measurement, by its index among the layout's assumptions.
    Assumption(u32),
    /// The dimension taken off the print.
    Sheet,
    /// A level of `[ground]`, by its index in the plan.
    Ground(u32),
}

/// What was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Reading {
    /// The position of a corner, by its index as written.
    Corner(u32),
    /// The positions of the edges of a box.
    Edges,
    /// The width and depth of a box.
    Sizes,
    /// How far a place is from the one it is set out from.
    Offset,
    /// One figure of a measurement, by its place in it: a piece of a chain, a distance of a tie.
    Figure(u32),
    /// The overall of a chain.
    Overall,
    /// The position of one mark of a chain read off a picture, by its place in the chain.
    Mark(u32),
    /// The bearing of a call, by its place in the traverse.
    Bearing(u32),
    /// A level of the ground, by its place among those stated of its owner.
    Level(u32),
}

/// What a run of error sources belongs to, for saying what to measure again.
#[derive(Clone, Debug, PartialEq)]
pub struct SourceOwner {
    /// The first of its sources; the run ends where the next one starts.
    pub first: SourceId,
    /// Whose.
    pub owner: Owner,
    /// What was read.
    pub reading: Reading,
    /// The reading's plus-or-minus at 95 %: a length, or an angle for a bearing or an angle.
    pub plus_minus: Quantity,
    /// From where to where it was read, by full names, where it runs between points.
    pub ends: Option<Box<(Name, Name)>>,
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
    /// Heights of points by their full name, where the plan measures levels.
    pub heights: BTreeMap<String, PointHeight>,
    /// Levels of the ground and the lines along which it breaks.
    pub ground: Ground,
    /// How far one standard deviation of each source moves the length on paper of the sheet's checked dimension.
    pub on_paper: Vec<(SourceId, Length)>,
    /// Measurements, by their index in the plan, that contradict themselves or others beyond what their accuracy
    /// allows, each with how far. A verdict that one of its readings being off by that much would turn is open until
    /// it is settled.
    pub disputed: BTreeMap<u32, Dispute>,
    /// What each adjustment says of its readings: of positions first, then of heights.
    pub adjustments: Vec<Adjustment>,
    /// Right angles taken for want of a measurement, in words: `a right angle at lot.sw`.
    pub assumptions: Vec<String>,
}

/// How far a measurement contradicts itself or others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Dispute {
    /// The pieces of a chain come to so much more than its overall, or less where it is negative: one piece is so much
    /// too long, or the overall so much too short.
    Gap(Length),
    /// One reading is off by so much, a length or an angle, nobody knows which way.
    Off(Quantity),
}

/// The height of a point over the plan's datum.
#[derive(Clone, Debug, PartialEq)]
pub struct PointHeight {
    /// How high.
    pub height: Length,
    /// How far one standard deviation of each source moves it, in order of source.
    pub error: Vec<(SourceId, Length)>,
}

impl Layout {
    /// What a source of error belongs to.
    pub fn owner(&self, source: SourceId) -> Option<&SourceOwner> {
        crate::sources::owner(&self.sources, source)
    }
}

impl SourceOwner {
    /// What was read, in words: `position of corner ne of house`.
    pub fn describe(&self, plan: &Plan) -> String {
        if let Some(words) = of_survey(plan, self.owner, self.reading, self.ends.as_deref()) {
            return words;
        }
        if let Reading::Level(which) = self.reading {
            return crate::ground::stated::words(plan, self.owner, which);
        }
        let (owner, corners) = match self.owner {
            Owner::Point(i) => (plan.points.get(i as usize).map(|p| &p.name.value), None),
            Owner::Lot(i) => {
                let lot = plan.lots.get(i as usize);
                (lot.map(|l| &l.id.value), lot.map(|l| &l.ring))
            }
            Owner::Feature(i) => {
                let feature = plan.features.get(i as usize);
                let ring = feature.and_then(|f| f.geometry.as_ref()).and_then(|g| match g {
                    Geometry::Outline { ring, .. } => Some(ring),
                    Geometry::Line { path, .. } => Some(path),
                    _ => None,
                });
                (feature.map(|f| &f.id.value), ring)
            }
            Owner::Measurement(_) | Owner::Assumption(_) | Owner::Sheet | Owner::Ground(_) => (None, None),
        };
        let owner = owner.map_or("an unnamed thing", |name| name.0.as_str());
        match self.reading {
            Reading::Corner(i) => {
                let named =
                    corners.and_then(|path| path.vertices.get(i as usize)).and_then(|v| v.corner.as_ref());
                match (named, corners) {
                    (Some(corner), _) => format!("position of corner {} of {owner}", corner.0),
                    (None, Some(_)) => format!("position of corner {} of {owner}", i + 1),
                    (None, None) => format!("position of {owner}"),
                }
            }
            Reading::Edges => format!("positions of the edges of {owner}"),
            Reading::Sizes => format!("width and depth of {owner}"),
            Reading::Offset => format!("distance that sets out {owner}"),
            Reading::Figure(_)
            | Reading::Mark(_)
            | Reading::Overall
            | Reading::Bearing(_)
            | Reading::Level(_) => format!("figure of {owner}"),
        }
    }
}

/// A figure of a measurement, or a right angle taken for granted, in words: `house.sw to house.se in chain-sw-se`.
pub(crate) fn of_survey(
    plan: &Plan,
    owner: Owner,
    reading: Reading,
    ends: Option<&(Name, Name)>,
) -> Option<String> {
    let of = match owner {
        Owner::Measurement(i) => {
            plan.measurements.get(i as usize).map_or("an unnamed measurement", |m| m.id.0.as_str())
        }
        Owner::Assumption(_) => {
            let at = ends.map_or(String::new(), |(at, _)| format!(" at {}", at.0));
            return Some(format!("right angle taken for granted{at}"));
        }
        Owner::Sheet => return Some("checked dimension on the print of the sheet".to_owned()),
        Owner::Point(_) | Owner::Lot(_) | Owner::Feature(_) | Owner::Ground(_) => return None,
    };
    Some(match (reading, ends) {
        (Reading::Overall, _) => format!("overall of {of}"),
        (Reading::Mark(_), Some((_, mark))) => format!("position of {} in {of}", mark.0),
        (Reading::Bearing(_), Some((from, to))) => format!("bearing {} to {} of {of}", from.0, to.0),
        (_, Some((from, to))) if from == to => format!("{} in {of}", from.0),
        (_, Some((from, to))) => format!("{} to {} in {of}", from.0, to.0),
        (_, None) => of.to_owned(),
    })
}
