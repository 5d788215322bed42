//! Latitudes and departures, and the area they go round.

use groundrule_units::{Area, Bearing, CircularCurve, Length};

use crate::Position;

/// One call as a move over the ground: its latitude and its departure.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Step {
    /// Its latitude: how far north.
    pub north: Length,
    /// Its departure: how far east.
    pub east: Length,
}

impl Step {
    /// From a bearing and a horizontal distance.
    pub fn of(bearing: Bearing, distance: Length) -> Self {
        let (sin, cos) = libm::sincos(bearing.azimuth().radians());
        Self { north: distance * cos, east: distance * sin }
    }

    /// How long it is.
    pub fn length(self) -> Length {
        Length::from_metres(libm::hypot(self.north.metres(), self.east.metres()))
    }

    /// Which way it goes; none for one that goes nowhere.
    pub fn bearing(self) -> Option<Bearing> {
        let (north, east) = (self.north.metres(), self.east.metres());
        let goes = north.is_finite() && east.is_finite() && (north != 0.0 || east != 0.0);
        goes.then(|| Bearing::from_azimuth(groundrule_units::Angle::from_radians(libm::atan2(east, north))))
    }

    /// One after the other.
    pub(super) fn plus(self, other: Self) -> Self {
        Self { north: self.north + other.north, east: self.east + other.east }
    }

    /// The one without the other.
    pub(super) fn less(self, other: Self) -> Self {
        Self { north: self.north - other.north, east: self.east - other.east }
    }
}

/// All of them one after the other.
pub(super) fn sum(steps: &[Step]) -> Step {
    steps.iter().fold(Step::default(), |sum, step| sum.plus(*step))
}

/// Where each step begins, with north up and east to the right.
pub fn vertices(start: Position, steps: &[Step]) -> Vec<Position> {
    let mut gone = Step::default();
    steps
        .iter()
        .map(|step| {
            let here = Position { x: start.x + gone.east, y: start.y + gone.north };
            gone = gone.plus(*step);
            here
        })
        .collect()
}

/// The area of a ring by coordinates, positive anticlockwise.
///
/// Coordinates are taken from the first vertex, so that figures far from the origin keep their last digits.
pub fn area_of(ring: &[Position]) -> Area {
    let Some(first) = ring.first() else { return Area::ZERO };
    let from = |at: &Position| (at.x - first.x, at.y - first.y);
    let next = ring.iter().cycle().skip(1);
    let twice: Area = ring
        .iter()
        .zip(next)
        .map(|(here, next)| (from(here), from(next)))
        .map(|((x, y), (next_x, next_y))| x * next_y - next_x * y)
        .sum();
    twice / 2.0
}

/// The double meridian distances of steps that close, and the area by them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DoubleMeridians {
    /// One for each step.
    pub distances: Vec<Length>,
    /// Twice the area: positive clockwise, as the method gives it.
    pub double_area: Area,
}

/// The area by double meridian distances, a check that goes another way than coordinates do.
///
/// The first distance is the first departure; each next one adds the departure before and its own
/// (common practice).
pub fn double_meridians(steps: &[Step]) -> DoubleMeridians {
    let mut result = DoubleMeridians::default();
    let (mut distance, mut before) = (Length::ZERO, Length::ZERO);
    for step in steps {
        distance = distance + before + step.east;
        before = step.east;
        result.distances.push(distance);
        result.double_area = result.double_area + distance * step.north;
    }
    result
}

/// The area between a curve and its chord, positive when the curve turns left: what it adds to a ring that runs
/// anticlockwise.
pub fn segment(curve: &CircularCurve, left: bool) -> Area {
    let delta = curve.delta.radians();
    let area = curve.radius * curve.radius * ((delta - libm::sin(delta)) / 2.0);
    if left { area } else { -area }
}
