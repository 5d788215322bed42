//! Bearings and distances that come back to where they began.

use std::fmt;

use groundrule_units::{Angle, Area, Bearing, Length, Ratio, SheetUnit, Written};

use super::balance::compass_rule;
use super::bearing_text::bearing_half_step;
use super::loop_causes::{causes, limits};
use super::steps::{Step, area_of, sum, vertices};
use super::text::half_step;
use super::{Bounds, Candidates, Figure, SAME, Verdict};
use crate::Position;

/// One call of a loop; a curve goes by its chord.
#[derive(Clone, Debug, PartialEq)]
pub struct Call {
    /// The direction and its text. A text that does not read back to the direction is not examined for mistakes.
    pub bearing: Written<Bearing>,
    /// The direction's plus-or-minus at 95 %.
    pub bearing_half_width: Angle,
    /// The distance; of a curve, its chord.
    pub distance: Figure,
    /// What a curve has beyond its chord, see [`super::segment`]; zero for a straight call.
    pub segment: Area,
}

impl Call {
    /// The call as a move over the ground.
    pub fn step(&self) -> Step {
        Step::of(self.bearing.value, self.distance.written.value)
    }
}

/// A closed traverse.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Loop {
    /// Its calls in order; the last is to end where the first began.
    pub calls: Vec<Call>,
    /// The unit of a bare number, for changing digits.
    pub sheet: Option<SheetUnit>,
}

/// A misclosure as a share of the perimeter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Precision(Ratio);

impl Precision {
    /// The misclosure by the perimeter: 0 for a loop that closes exactly, or that has no length.
    pub fn share(self) -> Ratio {
        self.0
    }
}

impl fmt::Display for Precision {
    /// `1:35`, or `exact` for a loop that closes within a micrometre.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let share = self.0.fraction();
        if share == 0.0 { f.write_str("exact") } else { write!(f, "1:{:.0}", (1.0 / share).round()) }
    }
}

/// How well a loop closes.
#[derive(Clone, Debug, PartialEq)]
pub struct LoopClosing {
    /// The calls as latitudes and departures.
    pub steps: Vec<Step>,
    /// Their sum: where the last call ends, seen from the first point.
    pub gap: Step,
    /// How long the gap is.
    pub misclosure: Length,
    /// The calls' distances together, curves by their chords.
    pub perimeter: Length,
    /// The misclosure by the perimeter.
    pub precision: Precision,
    /// What the misclosure may be. A figure is taken to be no better than half of the smallest step it shows.
    pub bounds: Bounds,
    /// The judgement.
    pub verdict: Verdict,
    /// The area, balanced by the compass rule, curves included; positive anticlockwise. It means little unless
    /// the loop closes.
    pub area: Area,
    /// The most a candidate may leave: what is to be expected, or 1:500 of the perimeter where that is more,
    /// since a tape survey reaches no better (common practice). It is never more than a quarter of the
    /// misclosure unless the readings are that poor, or small gaps would be explained by almost any change.
    pub limit: Length,
    /// Single mistakes that would explain it; empty when the loop closes.
    pub candidates: Candidates,
}

/// Goes round a loop.
pub fn close_loop(closed: &Loop) -> LoopClosing {
    let steps: Vec<Step> = closed.calls.iter().map(Call::step).collect();
    let gap = sum(&steps);
    let misclosure = gap.length();
    let perimeter: Length = closed.calls.iter().map(|call| call.distance.written.value.abs()).sum();
    let bounds = bounds(closed);
    let verdict = bounds.judge(misclosure);
    let limits = limits(closed, misclosure, perimeter, bounds);
    let area = area(&steps, &closed.calls);
    let candidates = match verdict {
        Verdict::Closes => Candidates::default(),
        _ => causes(closed, &steps, limits),
    };
    let precision = precision(misclosure, perimeter);
    LoopClosing {
        steps,
        gap,
        misclosure,
        perimeter,
        precision,
        bounds,
        verdict,
        area,
        limit: limits.any,
        candidates,
    }
}

fn precision(misclosure: Length, perimeter: Length) -> Precision {
    let exact = misclosure.metres() <= SAME || perimeter <= Length::ZERO;
    Precision(if exact { Ratio::ZERO } else { misclosure / perimeter })
}

/// The area that balanced steps go round, with what the curves have beyond their chords.
pub(super) fn area<'a>(steps: &[Step], calls: impl IntoIterator<Item = &'a Call>) -> Area {
    let ring = vertices(Position::default(), &compass_rule(steps));
    area_of(&ring) + calls.into_iter().map(|call| call.segment).sum()
}

/// Each call moves the end along itself by its distance's error and across by its bearing's, whichever way it
/// points; to first order.
fn bounds(closed: &Loop) -> Bounds {
    Bounds::of(closed.calls.iter().map(|call| {
        let distance = &call.distance;
        let rounding = half_step(&distance.written, closed.sheet).unwrap_or(Length::ZERO);
        let along = distance.half_width.abs().max(rounding);
        let turn = call.bearing_half_width.abs().max(bearing_half_step(&call.bearing));
        reach(distance.written.value, along, turn)
    }))
}

/// How far a call's end may be off.
pub(super) fn reach(distance: Length, along: Length, turn: Angle) -> Length {
    Length::from_metres(libm::hypot(along.metres(), distance.metres() * turn.radians()))
}
