//! Where one figure alone says that a point can be, when all else it relates is known.

use std::f64::consts::PI;

use crate::curves::Xy;
use crate::field::figure::{Figure, Line, Node, Relation};

/// The sine of about half a degree: lines within that of each other do not say where they meet.
pub(crate) const PARALLEL: f64 = 0.01;

/// A curve that a point lies on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Curve {
    /// At a distance from a place.
    Circle(Xy, f64),
    /// On a line through a place, in both directions.
    Line(Xy, Xy),
    /// In one direction from a place.
    Ray(Xy, Xy),
}

/// The curves of one figure; the point lies on one of them.
pub(crate) type Locus = Vec<Curve>;

/// What is known so far.
pub(crate) struct Known<'a> {
    pub(crate) at: &'a [Option<Xy>],
    /// Another mark of the chain that has this zero: its place and its figure. None while none is known.
    pub(crate) mark: &'a dyn Fn(usize, Node) -> Option<(Node, f64)>,
}

impl Known<'_> {
    fn at(&self, node: Node) -> Option<Xy> {
        self.at.get(node).copied().flatten()
    }

    /// The unit direction of a line.
    fn direction(&self, (from, to): Line) -> Option<Xy> {
        unit(minus(self.at(to)?, self.at(from)?))
    }

    /// Where this figure says that an unknown point can be; none while too little is known.
    pub(crate) fn locus(&self, figure: &Figure, of: Node) -> Option<Locus> {
        let value = figure.value;
        match figure.relation {
            Relation::Distance(a, b) => Some(vec![Curve::Circle(self.at(other(a, b, of)?)?, value)]),
            Relation::Azimuth(a, b) => {
                let from = self.at(other(a, b, of)?)?;
                let azimuth = if of == b { value } else { value + PI };
                Some(vec![Curve::Ray(from, toward(azimuth))])
            }
            Relation::Angle(at, from, to) => {
                let corner = self.at(at)?;
                let arm = |end: Node| Some(azimuth(minus(self.at(end)?, corner)));
                let azimuth = if of == to { arm(from)? + value } else { arm(to)? - value };
                Some(vec![Curve::Ray(corner, toward(azimuth))])
            }
            Relation::Between(at, from, to) => self.between(at, (from, to), value, of),
            Relation::Piece(line, a, b) => {
                let along = self.direction(line).filter(|_| of != line.0 && of != line.1)?;
                let (from, sign) = if of == b { (self.at(a)?, 1.0) } else { (self.at(b)?, -1.0) };
                Some(vec![Curve::Line(plus(from, along, value * sign), left(along))])
            }
            Relation::Mark(line, _, zero) => {
                let along = self.direction(line).filter(|_| of != line.0 && of != line.1)?;
                let (mark, read) = (self.mark)(zero, of)?;
                Some(vec![Curve::Line(plus(self.at(mark)?, along, value - read), left(along))])
            }
            Relation::Offset(line, point) => {
                if of == point {
                    let along = self.direction(line)?;
                    return Some(vec![Curve::Line(plus(self.at(line.0)?, left(along), value), along)]);
                }
                // An end of a line that another point is on lies on the line through that point.
                let end = self.at(other(line.0, line.1, of)?)?;
                (value == 0.0).then_some(())?;
                Some(vec![Curve::Line(end, unit(minus(self.at(point)?, end))?)])
            }
            Relation::Parallel(one, two) => {
                let (own, given) = if of == one.0 || of == one.1 { (one, two) } else { (two, one) };
                Some(vec![Curve::Line(self.at(other(own.0, own.1, of)?)?, self.direction(given)?)])
            }
            Relation::Equal(one, two) => {
                let (own, given) = if of == one.0 || of == one.1 { (one, two) } else { (two, one) };
                let length = norm(minus(self.at(given.1)?, self.at(given.0)?));
                Some(vec![Curve::Circle(self.at(other(own.0, own.1, of)?)?, length)])
            }
        }
    }

    fn between(&self, at: Node, (from, to): (Node, Node), value: f64, of: Node) -> Option<Locus> {
        let square = (value - PI / 2.0).abs() < 1e-9;
        if of == at {
            // The corner of a right angle lies on the circle over its arms (Thales).
            let (a, b) = (self.at(from)?, self.at(to)?);
            let middle = (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
            return square.then(|| vec![Curve::Circle(middle, norm(minus(b, a)) / 2.0)]);
        }
        let corner = self.at(at)?;
        let arm = minus(self.at(other(from, to, of)?)?, corner);
        if square {
            return Some(vec![Curve::Line(corner, left(unit(arm)?))]);
        }
        let turned = |by: f64| Curve::Ray(corner, toward(azimuth(arm) + by));
        Some(vec![turned(value), turned(-value)])
    }
}

/// The other of two points; none when `of` is neither or both.
fn other(a: Node, b: Node, of: Node) -> Option<Node> {
    match (of == a, of == b) {
        (true, false) => Some(b),
        (false, true) => Some(a),
        _ => None,
    }
}

/// Where two curves meet, and the sine of the angle they meet at.
pub(crate) fn meet(a: Curve, b: Curve) -> Vec<(Xy, f64)> {
    let places = match (a, b) {
        (Curve::Circle(p, r), Curve::Circle(q, s)) => circles(p, r, q, s),
        (Curve::Circle(p, r), line) | (line, Curve::Circle(p, r)) => circle_and_line(p, r, line),
        (one, two) => lines(one, two).into_iter().collect(),
    };
    let sine = |at: Xy| {
        let (n, m) = (normal(a, at), normal(b, at));
        (n.0 * m.1 - n.1 * m.0).abs()
    };
    let places =
        places.into_iter().filter(|&at| ahead(a, at) && ahead(b, at) && at.0.is_finite() && at.1.is_finite());
    places.map(|at| (at, sine(at))).collect()
}

/// How far a place is from a curve.
pub(crate) fn off(curve: Curve, at: Xy) -> f64 {
    match curve {
        Curve::Circle(centre, radius) => (norm(minus(at, centre)) - radius).abs(),
        Curve::Line(from, along) | Curve::Ray(from, along) => {
            let away = minus(at, from);
            let across = (along.0 * away.1 - along.1 * away.0).abs();
            if ahead(curve, at) { across } else { norm(away) }
        }
    }
}

/// How often a place is brought nearer to all its curves: from a crossing of two of them it is near already.
const NEARER: usize = 8;

/// The place that all curves of a point agree on best, near to where two of them cross.
///
/// Without this the error of every crossing would be handed on to what is constructed from it, and grow.
pub(crate) fn agreed(loci: &[&Locus], at: Xy) -> Xy {
    let mut here = at;
    for _ in 0..NEARER {
        let (mut xx, mut xy, mut yy, mut x, mut y) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for locus in loci {
            let nearest = locus.iter().copied().min_by(|a, b| off(*a, here).total_cmp(&off(*b, here)));
            let Some(curve) = nearest else { continue };
            let (n, d) = (normal(curve, here), beyond(curve, here));
            (xx, xy, yy) = (xx + n.0 * n.0, xy + n.0 * n.1, yy + n.1 * n.1);
            (x, y) = (x + n.0 * d, y + n.1 * d);
        }
        let determinant = xx * yy - xy * xy;
        if determinant <= 1e-6 * (xx + yy) * (xx + yy) {
            return at;
        }
        let by = ((yy * x - xy * y) / determinant, (xx * y - xy * x) / determinant);
        here = (here.0 - by.0, here.1 - by.1);
        if !(here.0.is_finite() && here.1.is_finite()) {
            return at;
        }
    }
    here
}

/// How far a place lies beyond a curve along the curve's normal.
fn beyond(curve: Curve, at: Xy) -> f64 {
    match curve {
        Curve::Circle(centre, radius) => norm(minus(at, centre)) - radius,
        Curve::Line(from, along) | Curve::Ray(from, along) => {
            let (away, n) = (minus(at, from), left(along));
            away.0 * n.0 + away.1 * n.1
        }
    }
}

fn normal(curve: Curve, at: Xy) -> Xy {
    match curve {
        Curve::Circle(centre, _) => unit(minus(at, centre)).unwrap_or((1.0, 0.0)),
        Curve::Line(_, along) | Curve::Ray(_, along) => left(along),
    }
}

/// False for a place behind the start of a ray.
fn ahead(curve: Curve, at: Xy) -> bool {
    match curve {
        Curve::Ray(from, along) => {
            let away = minus(at, from);
            away.0 * along.0 + away.1 * along.1 >= 0.0
        }
        Curve::Circle(..) | Curve::Line(..) => true,
    }
}

fn circles(p: Xy, r: f64, q: Xy, s: f64) -> Vec<Xy> {
    let between = minus(q, p);
    let Some(along) = unit(between) else { return Vec::new() };
    let apart = norm(between);
    let foot = (apart * apart + r * r - s * s) / (2.0 * apart);
    let square = r * r - foot * foot;
    // Circles that just touch may miss by rounding.
    if square < -1e-12 * r * r {
        return Vec::new();
    }
    let half = libm::sqrt(square.max(0.0));
    let foot = plus(p, along, foot);
    [1.0, -1.0].map(|side| plus(foot, left(along), side * half)).into()
}

fn circle_and_line(centre: Xy, radius: f64, line: Curve) -> Vec<Xy> {
    let (Curve::Line(from, along) | Curve::Ray(from, along)) = line else { return Vec::new() };
    let away = minus(centre, from);
    let (station, across) = (away.0 * along.0 + away.1 * along.1, along.0 * away.1 - along.1 * away.0);
    let square = radius * radius - across * across;
    if square < -1e-12 * radius * radius {
        return Vec::new();
    }
    let half = libm::sqrt(square.max(0.0));
    [1.0, -1.0].map(|side| plus(from, along, station + side * half)).into()
}

fn lines(one: Curve, two: Curve) -> Option<Xy> {
    let (Curve::Line(p, d) | Curve::Ray(p, d), Curve::Line(q, e) | Curve::Ray(q, e)) = (one, two) else {
        return None;
    };
    let sine = d.0 * e.1 - d.1 * e.0;
    if sine.abs() < PARALLEL {
        return None;
    }
    let away = minus(q, p);
    Some(plus(p, d, (away.0 * e.1 - away.1 * e.0) / sine))
}

pub(crate) fn minus(a: Xy, b: Xy) -> Xy {
    (a.0 - b.0, a.1 - b.1)
}

pub(crate) fn plus(at: Xy, along: Xy, by: f64) -> Xy {
    (at.0 + along.0 * by, at.1 + along.1 * by)
}

pub(crate) fn norm(a: Xy) -> f64 {
    libm::hypot(a.0, a.1)
}

pub(crate) fn unit(a: Xy) -> Option<Xy> {
    let size = norm(a);
    (size > 0.0 && size.is_finite()).then(|| (a.0 / size, a.1 / size))
}

pub(crate) fn left(along: Xy) -> Xy {
    (-along.1, along.0)
}

/// The direction clockwise from the top of the sheet.
pub(crate) fn toward(azimuth: f64) -> Xy {
    let (sin, cos) = libm::sincos(azimuth);
    (sin, cos)
}

/// How far clockwise from the top of the sheet a direction is.
pub(crate) fn azimuth(along: Xy) -> f64 {
    libm::atan2(along.0, along.1)
}
