//! Boundaries as pieces that run from left to right, for the sweep.

use geo::Coord;
use groundrule_survey::Point;

use super::piece::Piece;
use super::segments::{dot, meeting, norm, place};

/// The turn of the sheet under the sweep. Plans are full of upright edges, and a sweep from left to right
/// cannot see an upright edge move; after this turn hardly anything stands upright.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Turn {
    origin: Coord<f64>,
    x: Coord<f64>,
    y: Coord<f64>,
}

impl Turn {
    /// Turns about a place near what is swept, so that far coordinates cost no digits.
    pub(crate) fn about(origin: Coord<f64>) -> Self {
        let (sin, cos) = libm::sincos(0.733);
        Self { origin, x: Coord { x: cos, y: sin }, y: Coord { x: -sin, y: cos } }
    }

    fn apply(&self, p: Coord<f64>) -> Coord<f64> {
        let p = p - self.origin;
        Coord { x: dot(self.x, p), y: dot(self.y, p) }
    }

    /// A direction turned back to the sheet.
    pub(crate) fn back(&self, v: Coord<f64>) -> Coord<f64> {
        self.x * v.x + self.y * v.y
    }
}

/// The run of a curve.
#[derive(Clone, Copy, Debug)]
enum Run {
    Straight {
        start: Coord<f64>,
        end: Coord<f64>,
    },
    /// Half a circle; its sign says whether the upper or the lower.
    Arc {
        centre: Coord<f64>,
        radius: f64,
        sign: f64,
    },
}

/// One boundary curve from left to right.
#[derive(Clone, Debug)]
pub(crate) struct Curve<'a> {
    run: Run,
    /// Where it starts and ends.
    pub(crate) reach: (f64, f64),
    /// What crossing it upward adds to the winding.
    pub(crate) winding: i32,
    /// Which set of shapes it bounds.
    pub(crate) set: usize,
    /// The points it hangs on: its left and right end, or its centre twice.
    pub(crate) points: (&'a Point, &'a Point),
}

impl Curve<'_> {
    /// Its height at `x`, which lies within its reach.
    pub(crate) fn height(&self, x: f64) -> f64 {
        match self.run {
            Run::Straight { start, end } => {
                let t = (x - start.x) / (end.x - start.x);
                start.y + (end.y - start.y) * t
            }
            Run::Arc { centre, radius, sign } => centre.y + sign * chord(radius, x - centre.x),
        }
    }

    /// The area below it between two places within its reach.
    pub(crate) fn below(&self, from: f64, to: f64) -> f64 {
        match self.run {
            Run::Straight { .. } => (to - from) * self.height(f64::midpoint(from, to)),
            Run::Arc { centre, radius, sign } => {
                let part = |x: f64| {
                    let u = (x - centre.x).clamp(-radius, radius);
                    let half = chord(radius, u);
                    // By both legs: an arc sine would lose half its digits where the circle turns upright.
                    0.5 * (u * half + radius * radius * libm::atan2(u, half))
                };
                centre.y * (to - from) + sign * (part(to) - part(from))
            }
        }
    }

    /// How the area below it changes as its two points move, each as a gradient on the turned sheet.
    pub(crate) fn rise(&self, from: f64, to: f64) -> (Coord<f64>, Coord<f64>) {
        let width = to - from;
        match self.run {
            Run::Straight { start, end } => {
                let (run, climb) = (end.x - start.x, end.y - start.y);
                let share = (f64::midpoint(from, to) - start.x) / run;
                // A move along the slope leaves the area be; only the part square to it counts.
                let lift = |width: f64| Coord { x: -climb * (width / run), y: width };
                (lift(width * (1.0 - share)), lift(width * share))
            }
            Run::Arc { .. } => {
                let moved = Coord { x: self.height(from) - self.height(to), y: width };
                (moved / 2.0, moved / 2.0)
            }
        }
    }

    pub(crate) fn heights(&self) -> (f64, f64) {
        match self.run {
            Run::Straight { start, end } => (start.y.min(end.y), start.y.max(end.y)),
            Run::Arc { centre, radius, .. } => (centre.y - radius, centre.y + radius),
        }
    }

    /// Where it crosses another, at most twice; both may lie outside of either's reach.
    pub(crate) fn crossings(&self, other: &Self) -> [Option<f64>; 2] {
        match (self.run, other.run) {
            (Run::Straight { start, end }, Run::Straight { start: from, end: to }) => {
                [meeting(start, end, from, to).map(|(t, _)| start.x + (end.x - start.x) * t), None]
            }
            (Run::Straight { start, end }, Run::Arc { centre, radius, .. })
            | (Run::Arc { centre, radius, .. }, Run::Straight { start, end }) => {
                let (along, away) = (end - start, start - centre);
                let (a, b, c) = (dot(along, along), dot(along, away), dot(away, away) - radius * radius);
                let root = b * b - a * c;
                if root < 0.0 {
                    return [None, None];
                }
                [-1.0, 1.0].map(|sign| Some(start.x + along.x * (sign * libm::sqrt(root) - b) / a))
            }
            (Run::Arc { centre, radius, .. }, Run::Arc { centre: from, radius: other, .. }) => {
                let apart = from - centre;
                let d = norm(apart);
                let along = (d * d + radius * radius - other * other) / (2.0 * d);
                let half = radius * radius - along * along;
                if d == 0.0 || half < 0.0 {
                    return [None, None];
                }
                let (foot, aside) = (centre.x + apart.x * along / d, apart.y * libm::sqrt(half) / d);
                [Some(foot - aside), Some(foot + aside)]
            }
        }
    }
}

fn chord(radius: f64, off: f64) -> f64 {
    libm::sqrt(((radius - off) * (radius + off)).max(0.0))
}

/// The boundary of a piece; a bare path has none.
pub(crate) fn push_curves<'a>(piece: &'a Piece<'_>, set: usize, turn: &Turn, curves: &mut Vec<Curve<'a>>) {
    match piece {
        Piece::Disc { centre, radius } if *radius > 0.0 => {
            let at = turn.apply(place(centre));
            for sign in [-1.0, 1.0] {
                curves.push(Curve {
                    run: Run::Arc { centre: at, radius: *radius, sign },
                    reach: (at.x - radius, at.x + radius),
                    winding: if sign < 0.0 { 1 } else { -1 },
                    set,
                    points: (centre, centre),
                });
            }
        }
        Piece::Area { .. } => {
            for (a, b) in piece.edges() {
                let (start, end) = (turn.apply(place(a)), turn.apply(place(b)));
                let (start, end, winding, points) =
                    if start.x < end.x { (start, end, 1, (a, b)) } else { (end, start, -1, (b, a)) };
                if start.x < end.x {
                    let reach = (start.x, end.x);
                    curves.push(Curve { run: Run::Straight { start, end }, reach, winding, set, points });
                }
            }
        }
        Piece::Disc { .. } | Piece::Path(_) => {}
    }
}
