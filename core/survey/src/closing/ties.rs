//! Distances to one point from points that are known: do their circles meet, and how well do they cross.

use groundrule_units::{Angle, Length};

use super::{Bounds, Verdict};
use crate::Position;

/// Ties that cross at less than this, or at more than what lacks as much to half a turn, place a point badly
/// (common practice).
pub const WEAK_CROSSING: Angle = Angle::from_degrees(30.0);

/// One distance from a known point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TieFrom {
    /// The known point.
    pub from: Position,
    /// How far.
    pub distance: Length,
    /// The distance's plus-or-minus at 95 %.
    pub half_width: Length,
}

/// How the circles of two ties meet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Meeting {
    /// In two points, which mirror each other; the first is to the left of the way from the first known point to
    /// the second. Where the circles only touch the two are one.
    At([Position; 2]),
    /// They do not reach each other: both distances together are this much too short.
    Short(Length),
    /// One lies inside the other, and the longer distance is this much too long.
    Inside(Length),
    /// Both start from one place, or something is not a number, so that they fix no point.
    Nowhere,
}

/// Two ties to one point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TiePair {
    /// How they meet.
    pub meeting: Meeting,
    /// What a lack may be: both distances and what lies between the known points.
    pub bounds: Bounds,
    /// Closes when the circles meet, or nearly enough; otherwise the lack judged.
    pub verdict: Verdict,
    /// The angle at which the ties cross; none where they do not meet.
    pub crossing: Option<Angle>,
    /// True when they cross at under 30 or over 150 degrees, or do not meet.
    pub weak: bool,
    /// Where to draw the point when the circles do not meet: halfway across the lack. Otherwise the first of the
    /// two points.
    pub drawn: Position,
}

/// Brings two ties together; `between` is the plus-or-minus at 95 % of the distance between the known points.
pub fn two_ties(first: &TieFrom, second: &TieFrom, between: Length) -> TiePair {
    let base = Base::of(first.from, second.from);
    let (a, b) = (first.distance.metres().abs(), second.distance.metres().abs());
    let bounds = Bounds::of([first.half_width, second.half_width, between]);
    let (meeting, along, verdict) = match meet(&base, a, b) {
        Met::At(along, across) => {
            let points = [base.at(along, across), base.at(along, -across)];
            (Meeting::At(points), along, Verdict::Closes)
        }
        Met::Short(lack) => {
            let lack_length = Length::from_metres(lack);
            (Meeting::Short(lack_length), a + lack / 2.0, bounds.judge(lack_length))
        }
        Met::Inside(lack) => {
            let lack_length = Length::from_metres(lack);
            // Beyond the centre of the smaller circle, seen from the larger.
            let along = if a > b { a - lack / 2.0 } else { -(a + lack / 2.0) };
            (Meeting::Inside(lack_length), along, bounds.judge(lack_length))
        }
        Met::Nowhere => (Meeting::Nowhere, 0.0, Verdict::DoesNotAddUp),
    };
    let crossing = match meeting {
        Meeting::At(_) => crossing(base.length, a, b),
        _ => None,
    };
    let weak = crossing.is_none_or(|angle| {
        let least = WEAK_CROSSING.radians();
        let slack = 1e-9;
        angle.radians() < least - slack || angle.radians() > std::f64::consts::PI - least + slack
    });
    let drawn = match meeting {
        Meeting::At([point, _]) => point,
        _ => base.at(along, 0.0),
    };
    TiePair { meeting, bounds, verdict, crossing, weak, drawn }
}

/// The line between two known points, in metres.
struct Base {
    from: (f64, f64),
    /// The direction of the line; east where there is none.
    unit: (f64, f64),
    length: f64,
}

impl Base {
    fn of(from: Position, to: Position) -> Self {
        let (x, y) = ((to.x - from.x).metres(), (to.y - from.y).metres());
        let length = libm::hypot(x, y);
        let unit = if length > 0.0 { (x / length, y / length) } else { (1.0, 0.0) };
        Self { from: (from.x.metres(), from.y.metres()), unit, length }
    }

    fn at(&self, along: f64, left: f64) -> Position {
        let ((x, y), (ux, uy)) = (self.from, self.unit);
        Position {
            x: Length::from_metres(x + along * ux - left * uy),
            y: Length::from_metres(y + along * uy + left * ux),
        }
    }
}

enum Met {
    At(f64, f64),
    Short(f64),
    Inside(f64),
    Nowhere,
}

/// How far along the base the circles cross and how far off it, or what they lack.
fn meet(base: &Base, a: f64, b: f64) -> Met {
    let d = base.length;
    if !(d.is_finite() && a.is_finite() && b.is_finite()) || d <= super::SAME {
        return Met::Nowhere;
    }
    let (short, inside) = (d - a - b, (a - b).abs() - d);
    if short > super::SAME {
        return Met::Short(short);
    }
    if inside > super::SAME {
        return Met::Inside(inside);
    }
    let along = d / 2.0 + (a - b) * ((a + b) / (2.0 * d));
    // The product form loses no digits where the circles nearly touch.
    let across = ((a - along).max(0.0) * (a + along).max(0.0)).sqrt();
    Met::At(along, across)
}

/// The angle at the point between the two ties.
fn crossing(d: f64, a: f64, b: f64) -> Option<Angle> {
    // Half of the angle by the sides of the triangle keeps its digits for flat ones.
    let s = f64::midpoint(a, b) + d / 2.0;
    let (opposite, adjacent) = ((s - a) * (s - b), s * (s - d));
    let known = a > 0.0 && b > 0.0 && opposite.is_finite() && adjacent.is_finite();
    let half = libm::atan2(opposite.max(0.0).sqrt(), adjacent.max(0.0).sqrt());
    known.then(|| Angle::from_radians(2.0 * half))
}

/// One tie against the place that two others give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Misfit {
    /// The distance as the place has it less the distance read.
    pub gap: Length,
    /// What that may be, from this tie and the two that made the place; to first order.
    pub bounds: Bounds,
    /// The judgement.
    pub verdict: Verdict,
}

/// Any number of ties to one point.
#[derive(Clone, Debug, PartialEq)]
pub struct TiesClosing {
    /// Every two of them, by index, the first before the second.
    pub pairs: Vec<(usize, usize, TiePair)>,
    /// The crossing that suits the other ties best, and the two ties it is of; none when no two meet. With two
    /// ties only, their first meeting point.
    pub best: Option<(Position, usize, usize)>,
    /// Each tie against that place, in order; the two that make it fit exactly. Empty when no two meet.
    pub misfits: Vec<Misfit>,
    /// The worst of all: of the misfits, or of the pairs when no two meet. With fewer than two ties there is
    /// nothing to close.
    pub verdict: Verdict,
    /// True when every crossing is weak.
    pub weak: bool,
    /// Where to draw the point.
    pub drawn: Option<Position>,
}

/// Brings ties together; `between` is the plus-or-minus at 95 % of the distances between the known points.
///
/// The cost grows with the cube of the number of ties, which is small.
pub fn ties(from: &[TieFrom], between: Length) -> TiesClosing {
    let mut pairs = Vec::new();
    for (i, first) in from.iter().enumerate() {
        for (j, second) in from.iter().enumerate().skip(i + 1) {
            pairs.push((i, j, two_ties(first, second, between)));
        }
    }
    let best = best(from, &pairs);
    let misfits: Vec<Misfit> = match best {
        Some((at, i, j)) => from.iter().map(|tie| misfit(at, tie, from.get(i), from.get(j))).collect(),
        None => Vec::new(),
    };
    let worst_pair = pairs.iter().map(|(_, _, pair)| pair.verdict).max();
    let worst_misfit = misfits.iter().map(|misfit| misfit.verdict).max();
    let drawn = best.map(|(at, _, _)| at).or_else(|| pairs.first().map(|(_, _, pair)| pair.drawn));
    TiesClosing {
        verdict: worst_misfit.max(worst_pair).unwrap_or(Verdict::Closes),
        weak: pairs.iter().all(|(_, _, pair)| pair.weak),
        best,
        misfits,
        drawn,
        pairs,
    }
}

/// The meeting point whose distances to all known points differ least from those read.
fn best(from: &[TieFrom], pairs: &[(usize, usize, TiePair)]) -> Option<(Position, usize, usize)> {
    let points = pairs.iter().flat_map(|(i, j, pair)| match pair.meeting {
        Meeting::At(points) => points.map(|at| (at, *i, *j)).to_vec(),
        _ => Vec::new(),
    });
    let cost = |at: Position| -> Length { from.iter().map(|tie| gap(at, tie).abs()).sum() };
    let mut best: Option<(Length, (Position, usize, usize))> = None;
    for point in points {
        let cost = cost(point.0);
        // The earlier of two that are as good, so that the answer does not hang on the last digit.
        if best.is_none_or(|(least, _)| cost + Length::from_metres(super::SAME) < least) {
            best = Some((cost, point));
        }
    }
    best.map(|(_, point)| point)
}

/// The distance to the known point less the one read.
fn gap(at: Position, tie: &TieFrom) -> Length {
    Base::of(tie.from, at).length_from() - tie.distance
}

impl Base {
    fn length_from(&self) -> Length {
        Length::from_metres(self.length)
    }
}

/// A tie at a place that two others make: their errors move the place, and that its distance.
fn misfit(at: Position, tie: &TieFrom, first: Option<&TieFrom>, second: Option<&TieFrom>) -> Misfit {
    let gap = gap(at, tie);
    let unit = Base::of(tie.from, at).unit;
    let mut shares = vec![tie.half_width];
    if let (Some(first), Some(second)) = (first, second) {
        let is_one_of_them = first == tie || second == tie;
        let (u, v) = (Base::of(first.from, at).unit, Base::of(second.from, at).unit);
        let cross = u.0 * v.1 - u.1 * v.0;
        if !is_one_of_them && cross.abs() > 1e-9 {
            let of_first = (unit.0 * v.1 - unit.1 * v.0) / cross;
            let of_second = (u.0 * unit.1 - u.1 * unit.0) / cross;
            shares.extend([first.half_width * of_first, second.half_width * of_second]);
        }
    }
    let bounds = Bounds::of(shares);
    Misfit { gap, bounds, verdict: bounds.judge(gap) }
}
