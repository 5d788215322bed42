//! Circular curves of a boundary: any two of radius, arc, delta and chord define one.

use std::f64::consts::PI;

use crate::{Angle, Length, Quantity};

/// One of the figures a plat gives for a curve.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CurvePart {
    /// `R`: the radius.
    Radius,
    /// `L`: the length along the arc.
    Arc,
    /// `Δ`: the angle at the centre.
    Delta,
    /// `CH`: the straight length between the ends.
    Chord,
}

impl CurvePart {
    /// The sign a plat writes before the figure.
    pub const fn sign(self) -> &'static str {
        match self {
            Self::Radius => "R",
            Self::Arc => "L",
            Self::Delta => "Δ",
            Self::Chord => "CH",
        }
    }
}

/// A figure given beyond the two that define the curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CurveCheck {
    /// Which figure.
    pub part: CurvePart,
    /// As written.
    pub written: Quantity,
    /// As it follows from the two that define the curve.
    pub computed: Quantity,
    /// True when the difference is within what rounding all three figures can make.
    pub agrees: bool,
}

/// A circular curve, whole.
#[derive(Clone, Debug, PartialEq)]
pub struct CircularCurve {
    /// The radius.
    pub radius: Length,
    /// The length along the arc.
    pub arc: Length,
    /// The angle at the centre, under a whole turn.
    pub delta: Angle,
    /// The straight length between the ends.
    pub chord: Length,
    /// One check for each figure beyond the first two; empty when only two were given.
    pub checks: Vec<CurveCheck>,
}

/// A figure in metres or radians.
pub(crate) type Part = (CurvePart, f64);

/// Radius and delta.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Shape {
    radius: f64,
    delta: f64,
}

impl Shape {
    /// The curve that two figures define; of radius and chord, the arc of at most half a turn.
    pub(crate) fn of(first: Part, second: Part) -> Option<Self> {
        use CurvePart::{Arc, Chord, Delta, Radius};
        let shape = match (first, second) {
            ((Radius, radius), (Delta, delta)) => Self { radius, delta },
            ((Radius, radius), (Arc, arc)) => Self { radius, delta: arc / radius },
            ((Radius, radius), (Chord, chord)) => {
                Self { radius, delta: 2.0 * libm::asin(chord / 2.0 / radius) }
            }
            ((Arc, arc), (Delta, delta)) => Self { radius: arc / delta, delta },
            ((Chord, chord), (Delta, delta)) => Self { radius: chord / 2.0 / libm::sin(delta / 2.0), delta },
            ((Arc, arc), (Chord, chord)) => {
                let delta = 2.0 * angle_whose_sine_is(chord / arc)?;
                Self { radius: arc / delta, delta }
            }
            _ => return None,
        };
        let is_curve = shape.radius > 0.0 && shape.delta > 0.0 && shape.delta < 2.0 * PI;
        is_curve.then_some(shape)
    }

    /// One figure of this curve.
    pub(crate) fn part(self, part: CurvePart) -> f64 {
        match part {
            CurvePart::Radius => self.radius,
            CurvePart::Arc => self.radius * self.delta,
            CurvePart::Delta => self.delta,
            CurvePart::Chord => 2.0 * self.radius * libm::sin(self.delta / 2.0),
        }
    }

    pub(crate) fn with_checks(self, checks: Vec<CurveCheck>) -> CircularCurve {
        CircularCurve {
            radius: Length::from_metres(self.radius),
            arc: Length::from_metres(self.part(CurvePart::Arc)),
            delta: Angle::from_radians(self.delta),
            chord: Length::from_metres(self.part(CurvePart::Chord)),
            checks,
        }
    }
}

/// The angle between 0 and half a turn whose sine is this share of itself.
///
/// The share falls steadily from 1 to 0 over that range, so halving the range finds it.
fn angle_whose_sine_is(share_of_itself: f64) -> Option<f64> {
    if !(share_of_itself > 0.0 && share_of_itself < 1.0) {
        return None;
    }
    let (mut low, mut high) = (0.0, PI);
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if libm::sin(middle) / middle > share_of_itself {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(f64::midpoint(low, high))
}
