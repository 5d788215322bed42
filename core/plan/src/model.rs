//! The typed plan: what the file says, before any point is resolved.

mod ground;
mod measurements;
mod stated;

use std::collections::BTreeMap;

use groundrule_units::{Angle, Area, Flow, Length, Level, Ratio, SheetUnit, Speed, Time, Written};

pub use ground::{GroundFacts, GroundMark};
pub use measurements::{
    AngleReading, Call, Chain, Course, Distance, Fact, Fall, FallReading, Height, Lengths, LevelRun,
    Measurement, Offset, Offsets, Piece, Reading, SheetSide, Sight, Tie, TieSide, Traverse, Turn,
};
pub use stated::{CheckedLength, Declaration, Presence, Sheet};

use crate::{Remark, Source, Span};

/// The name of a point, feature, side or class, as written.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Name(pub String);

/// A value with its place in the file.
#[derive(Clone, Debug, PartialEq)]
pub struct At<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> At<T> {
    /// What is made of the value, at the same place.
    pub fn map<U>(self, make: impl FnOnce(T) -> U) -> At<U> {
        At { value: make(self.value), span: self.span }
    }
}

/// A whole plan.
#[derive(Clone, Debug)]
pub struct Plan {
    /// The file it came from.
    pub source: Source,
    /// Facts of the place and of the application.
    pub site: SiteFacts,
    /// Classes of measuring, by name.
    pub accuracy: BTreeMap<Name, AccuracyClass>,
    /// Named points.
    pub points: Vec<NamedPoint>,
    /// What was measured, in file order.
    pub measurements: Vec<Measurement>,
    /// The lots; usually one.
    pub lots: Vec<Lot>,
    /// Everything on them.
    pub features: Vec<Feature>,
    /// What is said to be there or not there, by subject.
    pub declared: BTreeMap<Name, Declaration>,
    /// What the sheet itself states.
    pub sheet: Sheet,
    /// What is said of the levels of the ground as a whole, and of those at points.
    pub ground: GroundFacts,
    /// What reading the file already found about the data.
    pub remarks: Vec<Remark>,
}

/// Facts of the place and of the application.
#[derive(Clone, Debug)]
pub struct SiteFacts {
    /// The plan's title.
    pub name: String,
    /// The unit of bare numbers.
    pub units: SheetUnit,
    /// Which way north lies, if said.
    pub north: Option<North>,
    /// Latitude, positive north.
    pub latitude: Option<Angle>,
    /// Longitude, positive east.
    pub longitude: Option<Angle>,
    /// The zoning district.
    pub district: Option<String>,
    /// Overlay districts.
    pub overlays: Vec<String>,
    /// Filing date, `YYYY-MM-DD`.
    pub filed: Option<String>,
    /// Permit type: one word, as `fence` or `pool`.
    pub permit: Option<String>,
    /// How well everything was placed that does not say so itself; proposed work is placed by design, exactly.
    pub by: Option<Accuracy>,
}

/// Which way north lies on the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct North {
    /// The direction of true north, clockwise from the top of the sheet.
    pub clockwise_of_up: Angle,
    /// As written.
    pub text: String,
    /// Where.
    pub span: Span,
}

/// How good one way of measuring is: each figure a plus-or-minus that holds 95 times in a hundred.
#[derive(Clone, Debug, PartialEq)]
pub struct AccuracyClass {
    /// Of a length or a position.
    pub plus_minus: Written<Length>,
    /// What errs by that.
    pub of_each: OfEach,
    /// Further share of a length, added as squares are: sag and stretch of a tape, counting paces.
    pub of_length: Ratio,
    /// Of an angle or a bearing.
    pub angle: Angle,
    /// Where its figures come from.
    pub origin: ClassOrigin,
    /// Where in the file; empty for a class the plan does not define.
    pub span: Span,
}

impl Feature {
    /// A property of this name, if stated.
    pub fn stated(&self, name: &str) -> Option<&At<Attribute>> {
        // The map is keyed by owned names, of which few are stated: looking through them makes none.
        self.attributes.iter().find(|(stated, _)| stated.0 == name).map(|(_, attribute)| attribute)
    }
}

impl AccuracyClass {
    /// A class of each length erring by so much, and nothing else said.
    pub fn plain(plus_minus: Written<Length>, span: Span) -> Self {
        Self {
            plus_minus,
            of_each: OfEach::Length,
            of_length: Ratio::ZERO,
            angle: Angle::ZERO,
            origin: ClassOrigin::Plan,
            span,
        }
    }
}

/// What errs by a class's plus-or-minus.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OfEach {
    /// Each length: a tape.
    Length,
    /// Each position read off a picture or a map, so that a length between two of them errs by both.
    Position,
}

/// Where the figures of a class come from.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ClassOrigin {
    /// The plan gives them.
    Plan,
    /// They are the program's usual figures for this way of measuring, of the standing named.
    Usual {
        /// Where they come from: `common practice`, `from memory`.
        standing: &'static str,
    },
}

/// How well something was placed.
#[derive(Clone, Debug, PartialEq)]
pub enum Accuracy {
    /// A named class of the plan.
    Class(At<Name>),
    /// Figures of its own.
    Own(Box<AccuracyClass>),
}

/// A point with a name.
#[derive(Clone, Debug)]
pub struct NamedPoint {
    /// Its name.
    pub name: At<Name>,
    /// Where it is.
    pub place: Place,
    /// How well that is known; the plan's default class when absent.
    pub by: Option<Accuracy>,
}

/// A point named elsewhere: `oak`, or a corner of a feature or lot: `house.ne`.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PointRef {
    /// The feature or lot whose corner it is; none for a point of its own.
    pub owner: Option<Name>,
    /// The point's or corner's name.
    pub point: Name,
    /// Where it is named.
    pub span: Span,
}

impl PointRef {
    /// The whole name: `oak`, `house.ne`.
    pub fn full(&self) -> String {
        match &self.owner {
            Some(owner) => format!("{}.{}", owner.0, self.point.0),
            None => self.point.0.clone(),
        }
    }
}

/// A wall or side between two named points.
#[derive(Clone, Debug, PartialEq)]
pub struct WallRef {
    /// Where stationing starts.
    pub from: PointRef,
    /// The direction it runs in.
    pub to: PointRef,
}

/// Where a point is.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// Where measurements put it, roughly here: the place tells mirror images apart and counts as no measurement.
    Near {
        /// To the right on the sheet.
        x: Written<Length>,
        /// Up the sheet.
        y: Written<Length>,
        /// Where.
        span: Span,
    },
    /// Sheet coordinates.
    At {
        /// To the right on the sheet.
        x: Written<Length>,
        /// Up the sheet.
        y: Written<Length>,
        /// Where.
        span: Span,
    },
    /// The same place as a named point.
    Point(PointRef),
    /// So far right and up from a point.
    From {
        /// The point; boxed like a wall, so that plain coordinates, of which there are most, stay small.
        base: Box<PointRef>,
        /// To the right on the sheet.
        right: Written<Length>,
        /// Up the sheet.
        up: Written<Length>,
        /// Where.
        span: Span,
    },
    /// So far along a wall and so far off it.
    Along {
        /// The wall.
        wall: Box<WallRef>,
        /// Distance along it from its first point.
        station: Written<Length>,
        /// Distance off it, positive to the left of its direction.
        offset: Written<Length>,
        /// Where.
        span: Span,
    },
}

/// The curve from one vertex to the next.
#[derive(Clone, Debug, PartialEq)]
pub enum Curve {
    /// A circular arc through this place.
    Through(Place),
    /// A circular arc of this radius, the shorter way round, turning to the left or right.
    Radius {
        /// The radius.
        radius: Written<Length>,
        /// True when the arc turns left along the direction of the outline.
        left: bool,
        /// Where.
        span: Span,
    },
}

/// A vertex of an outline or a line.
#[derive(Clone, Debug, PartialEq)]
pub struct Vertex {
    /// Where it is.
    pub place: Place,
    /// Its name among the feature's corners, if it has one.
    pub corner: Option<Name>,
    /// The curve to the next vertex; straight when none. Boxed, since few vertices have one.
    pub curve: Option<Box<Curve>>,
}

/// A ring or a line of vertices.
#[derive(Clone, Debug, PartialEq)]
pub struct Path {
    /// In order; a ring does not repeat its first.
    pub vertices: Vec<Vertex>,
    /// Where.
    pub span: Span,
}

/// What a box of given sizes is set out from.
#[derive(Clone, Debug, PartialEq)]
pub enum Anchor {
    /// One of its corners stands at a place, and it is turned so much anticlockwise on the sheet.
    Corner {
        /// `sw`, `se`, `ne` or `nw` of the box before turning.
        corner: Name,
        /// Where that corner stands.
        place: Place,
        /// Turned so much, anticlockwise.
        turn: Angle,
    },
    /// Its `sw`-`se` side lies along a wall, on one side of it.
    Wall {
        /// The wall.
        wall: WallRef,
        /// Distance along the wall to the box's first corner.
        station: Written<Length>,
        /// Clear distance off the wall.
        offset: Written<Length>,
        /// True when the box stands to the left of the wall's direction.
        left: bool,
    },
}

/// The shape of a feature as written.
#[derive(Clone, Debug, PartialEq)]
pub enum Geometry {
    /// A closed outline, with holes.
    Outline {
        /// The outer ring.
        ring: Path,
        /// Rings cut out of it.
        holes: Vec<Path>,
    },
    /// A rectangle by its sizes; its corners are `sw`, `se`, `ne`, `nw`.
    Box {
        /// What it is set out from.
        anchor: Anchor,
        /// Along `sw`-`se`.
        width: Written<Length>,
        /// Along `sw`-`nw`.
        depth: Written<Length>,
        /// How well its sizes are known, where that differs from its place.
        sizes_by: Option<Accuracy>,
        /// Where.
        span: Span,
    },
    /// A line: a fence, a wire, the middle of a walk.
    Line {
        /// Its vertices.
        path: Path,
        /// Its full width, half on each side.
        width: Option<Written<Length>>,
    },
    /// A point.
    Spot(Place),
    /// A circle.
    Circle {
        /// Its centre.
        centre: Place,
        /// Its radius.
        radius: Written<Length>,
    },
}

/// Whether a thing is there, will be, or will go.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// It stands.
    Existing,
    /// It is asked for.
    Proposed,
    /// It will be taken away.
    Remove,
}

/// A stated property of a feature.
#[derive(Clone, Debug, PartialEq)]
pub enum Attribute {
    /// A length.
    Length(Written<Length>),
    /// Several lengths, in the order written.
    Lengths(Vec<Written<Length>>),
    /// A level.
    Level(Written<Level>),
    /// A level for each vertex or station, in the order written; none where it was not taken.
    Levels(Vec<Option<At<Written<Level>>>>),
    /// An area.
    Area(Written<Area>),
    /// A slope or share.
    Ratio(Written<Ratio>),
    /// A number without a unit.
    Number(Ratio),
    /// How much water passes in a time.
    Flow(Written<Flow>),
    /// A speed of water, or a rate of rain or of soaking in.
    Speed(Written<Speed>),
    /// How long something takes.
    Time(Written<Time>),
    /// A whole number.
    Count(u32),
    /// Yes or no.
    Flag(bool),
    /// Words.
    Text(String),
}

/// A thing on the plan.
#[derive(Clone, Debug)]
pub struct Feature {
    /// Its id, unique among features and lots.
    pub id: At<Name>,
    /// A longer name for reports.
    pub title: Option<String>,
    /// Its kind, a name of the kind tree.
    pub kind: At<String>,
    /// Existing, proposed or to be removed, if said.
    pub status: Option<At<Status>>,
    /// The lot it belongs to, if said.
    pub lot: Option<At<Name>>,
    /// Its shape; some things are only stated.
    pub geometry: Option<Geometry>,
    /// How well it was placed; the plan's default class when absent.
    pub by: Option<Accuracy>,
    /// What else is said of it.
    pub attributes: BTreeMap<Name, At<Attribute>>,
    /// Where.
    pub span: Span,
}

/// What a lot line is to the lot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// The line the lot fronts.
    Front,
    /// A side line between lots.
    Side,
    /// A side line along a street.
    StreetSide,
    /// The line opposite the front.
    Rear,
}

/// One side of a lot.
#[derive(Clone, Debug)]
pub struct Side {
    /// Its name, `sw-se` when none is given.
    pub name: Name,
    /// The index of the lot corner it starts at; it runs to the next corner named by `until`.
    pub from: usize,
    /// The index of the lot corner it ends at.
    pub until: usize,
    /// Its role, if said.
    pub role: Option<At<Role>>,
    /// True when the role was proposed by the program and not stated by a person.
    pub assumed: bool,
    /// The street along it.
    pub street: Option<String>,
    /// The width of that street's right-of-way, if said.
    pub street_width: Option<Written<Length>>,
    /// Where.
    pub span: Span,
}

/// A lot and its sides.
#[derive(Clone, Debug)]
pub struct Lot {
    /// Its id; `lot` when the plan has one lot and gives no id.
    pub id: At<Name>,
    /// Its ring, anticlockwise or clockwise as written.
    pub ring: Path,
    /// Its sides, at least one for every edge of the ring.
    pub sides: Vec<Side>,
    /// How well its corners are known.
    pub by: Option<Accuracy>,
    /// Stated area, if any.
    pub stated_area: Option<At<Written<Area>>>,
    /// The length of a rear line to be set out inside it, for a lot that comes to a point.
    pub pointed_rear: Option<At<Written<Length>>>,
    /// Where.
    pub span: Span,
}
