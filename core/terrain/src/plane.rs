//! Small plane geometry in metres, seen from the first vertex.

use robust::{Coord, orient2d};

/// East and north.
pub(crate) type Xy = [f64; 2];

/// Places closer than this are one: a millimetre, below what any tape or level on a garden tells apart.
pub(crate) const SAME: f64 = 1e-3;

pub(crate) fn sub(a: Xy, b: Xy) -> Xy {
    [a[0] - b[0], a[1] - b[1]]
}

pub(crate) fn dot(a: Xy, b: Xy) -> f64 {
    a[0] * b[0] + a[1] * b[1]
}

pub(crate) fn cross(a: Xy, b: Xy) -> f64 {
    a[0] * b[1] - a[1] * b[0]
}

pub(crate) fn lerp(a: Xy, b: Xy, t: f64) -> Xy {
    [mix(a[0], b[0], t), mix(a[1], b[1], t)]
}

/// `a` at 0 and `b` at 1, both exactly.
pub(crate) fn mix(a: f64, b: f64, t: f64) -> f64 {
    if t >= 1.0 { b } else { a + (b - a) * t }
}

pub(crate) fn distance(a: Xy, b: Xy) -> f64 {
    libm::hypot(a[0] - b[0], a[1] - b[1])
}

/// Positive when `p` is left of the line from `a` to `b`; the sign is exact.
pub(crate) fn side(a: Xy, b: Xy, p: Xy) -> f64 {
    let coord = |[x, y]: Xy| Coord { x, y };
    orient2d(coord(a), coord(b), coord(p))
}

/// Twice the area of a triangle, positive when it goes anticlockwise.
pub(crate) fn twice_area(a: Xy, b: Xy, c: Xy) -> f64 {
    cross(sub(b, a), sub(c, a))
}

/// The area inside a ring, positive when it goes anticlockwise.
pub(crate) fn ring_area(ring: &[Xy]) -> f64 {
    let Some((&first, rest)) = ring.split_first() else { return 0.0 };
    rest.iter().zip(rest.iter().skip(1)).map(|(&a, &b)| twice_area(first, a, b)).sum::<f64>() / 2.0
}

/// The edges of a ring, the closing one last.
pub(crate) fn edges(ring: &[Xy]) -> impl Iterator<Item = (Xy, Xy)> + '_ {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1)).take(ring.len())
}

/// Whether a ring goes round a place an odd number of times.
pub(crate) fn inside(ring: &[Xy], p: Xy) -> bool {
    let mut odd = false;
    for (a, b) in edges(ring) {
        if (a[1] > p[1]) != (b[1] > p[1]) {
            let left = side(a, b, p) > 0.0;
            if left == (b[1] > a[1]) {
                odd = !odd;
            }
        }
    }
    odd
}

/// Where on `a` to `b` (0 to 1) the place nearest to `p` is, and how far it is.
pub(crate) fn nearest(a: Xy, b: Xy, p: Xy) -> (f64, f64) {
    let along = sub(b, a);
    let square = dot(along, along);
    let t = if square > 0.0 { (dot(sub(p, a), along) / square).clamp(0.0, 1.0) } else { 0.0 };
    (t, distance(p, lerp(a, b, t)))
}

/// A box with sides along the axes.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Frame {
    pub(crate) min: Xy,
    pub(crate) max: Xy,
}

impl Frame {
    pub(crate) fn of(places: &[Xy]) -> Self {
        let mut frame = Self { min: [f64::INFINITY; 2], max: [f64::NEG_INFINITY; 2] };
        for &[x, y] in places {
            frame.min = [frame.min[0].min(x), frame.min[1].min(y)];
            frame.max = [frame.max[0].max(x), frame.max[1].max(y)];
        }
        frame
    }

    pub(crate) fn meets(&self, other: &Self) -> bool {
        self.min[0] <= other.max[0]
            && other.min[0] <= self.max[0]
            && self.min[1] <= other.max[1]
            && other.min[1] <= self.max[1]
    }

    pub(crate) fn grown(mut self, by: f64) -> Self {
        self.min = [self.min[0] - by, self.min[1] - by];
        self.max = [self.max[0] + by, self.max[1] + by];
        self
    }
}

/// A count as an index of 32 bits; surfaces of four thousand million parts do not fit in memory first.
pub(crate) fn id(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}
