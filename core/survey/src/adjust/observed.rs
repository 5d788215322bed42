//! What is observed between the parts of a network.

use groundrule_units::{Dimension, Quantity};

use crate::SourceId;

/// A point of a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Spot(pub(crate) u32);

/// A height of a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Bench(pub(crate) u32);

/// The unknown zero of readings along a line: what the tape read where the line begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Origin(pub(crate) u32);

/// The unknown azimuth of the zero of a set of directions.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Orientation(pub(crate) u32);

/// An observation of a network, in the order they were added; the automatic ones of error sources included.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ObservationId(pub(crate) u32);

impl ObservationId {
    /// Its place among the observations of its network.
    pub const fn index(self) -> usize {
        self.0 as usize
    }
}

/// Anything unknown in a network.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Part {
    /// A point.
    Spot(Spot),
    /// A height.
    Bench(Bench),
    /// The zero of readings along a line.
    Origin(Origin),
    /// The zero of a set of directions.
    Orientation(Orientation),
    /// A source of error shared by placed points.
    Source(SourceId),
}

/// What an observation is of. Lines run from their first spot to their second.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Observed {
    /// The length between two points.
    Distance(Spot, Spot),
    /// The azimuth from the first to the second, clockwise from up (+y).
    Azimuth(Spot, Spot),
    /// The azimuth from `at` to `to`, less the azimuth of the zero of its set.
    Direction {
        /// Where the instrument stands.
        at: Spot,
        /// What it is pointed at.
        to: Spot,
        /// Of the set it belongs to.
        orientation: Orientation,
    },
    /// The angle at `at`, clockwise from `from` to `to`.
    Angle {
        /// The corner.
        at: Spot,
        /// Where it is turned from.
        from: Spot,
        /// Where it is turned to.
        to: Spot,
    },
    /// The coordinate to the right (x).
    Right(Spot),
    /// The coordinate upward (y).
    Up(Spot),
    /// How far along the line's direction `point` lies from `zero`, less the origin if there is one.
    Station {
        /// The line whose direction counts.
        line: (Spot, Spot),
        /// Where the readings count from.
        zero: Spot,
        /// What is read.
        point: Spot,
        /// What has to be added to a reading to count from `zero`.
        origin: Option<Origin>,
    },
    /// How far `point` lies to the left of the line.
    Offset {
        /// The line.
        line: (Spot, Spot),
        /// What is read.
        point: Spot,
    },
    /// How far along the line's direction `b` lies from `a`.
    Piece {
        /// The line whose direction counts.
        line: (Spot, Spot),
        /// From.
        a: Spot,
        /// To.
        b: Spot,
    },
    /// The turn from the first line to the second, anticlockwise, whatever way each runs (between -90 and 90
    /// degrees): observe zero for lines that run alike.
    Parallel((Spot, Spot), (Spot, Spot)),
    /// The length of the first line less that of the second.
    Equal((Spot, Spot), (Spot, Spot)),
    /// A height.
    Height(Bench),
    /// The height of the second less that of the first.
    Rise(Bench, Bench),
    /// An error source itself, a pure number; every source has one such observation of 0 with uncertainty 1,
    /// which [`crate::adjust::Network::placed`] adds.
    Source(SourceId),
}

impl Observed {
    /// What its value and its uncertainty are quantities of.
    pub const fn dimension(&self) -> Dimension {
        match self {
            Self::Azimuth(..) | Self::Direction { .. } | Self::Angle { .. } | Self::Parallel(..) => {
                Dimension::Angle
            }
            Self::Source(_) => Dimension::Ratio,
            _ => Dimension::Length,
        }
    }
}

/// One observation.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Observation {
    /// What it is of.
    pub what: Observed,
    /// What was read.
    pub value: Quantity,
    /// Its standard uncertainty, in the dimension of the value; zero for a condition that holds exactly.
    pub sigma: Quantity,
}
