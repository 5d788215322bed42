//! A shape as simple pieces: areas with holes, bare paths, discs.

use std::borrow::Cow;

use geo::Coord;
use groundrule_survey::{ErrorTerm, ErrorTerms, Point, Shape};
use groundrule_units::Length;
use smallvec::{SmallVec, smallvec};

use super::rings::{self, Lies};
use super::segments::{dot, norm, place, position, right};

/// The pieces of one shape. A line with a width is a flat-ended strip for each segment and a disc at
/// each bend; everything else is one piece.
pub(crate) type Pieces<'a> = SmallVec<[Piece<'a>; 1]>;

#[derive(Clone, Debug)]
pub(crate) enum Piece<'a> {
    /// An outer ring, anticlockwise, and holes, clockwise.
    Area { ring: Cow<'a, [Point]>, holes: &'a [Vec<Point>] },
    /// A line without width, of two points or more.
    Path(&'a [Point]),
    /// A circle; a spot is one of radius zero.
    Disc { centre: &'a Point, radius: f64 },
}

/// A vertex with its neighbours along the boundary.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Corner<'a> {
    pub(crate) before: Option<&'a Point>,
    pub(crate) at: &'a Point,
    pub(crate) after: Option<&'a Point>,
}

impl Corner<'_> {
    /// True when, of this corner and the two edges at it, the corner is nearest to `p`.
    pub(crate) fn faces(&self, p: Coord<f64>) -> bool {
        let way = p - place(self.at);
        [self.before, self.after].into_iter().flatten().all(|n| {
            let along = place(n) - place(self.at);
            // A hair of room: where rounding puts the foot beyond the edge, the corner must not refuse it.
            dot(way, along) <= 1e-12 * norm(way) * norm(along)
        })
    }
}

/// An upright box.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Bounds {
    pub(crate) low: Coord<f64>,
    pub(crate) high: Coord<f64>,
}

impl Bounds {
    pub(crate) const EMPTY: Self = Self {
        low: Coord { x: f64::INFINITY, y: f64::INFINITY },
        high: Coord { x: f64::NEG_INFINITY, y: f64::NEG_INFINITY },
    };

    pub(crate) fn around(self, p: Coord<f64>, radius: f64) -> Self {
        Self {
            low: Coord { x: self.low.x.min(p.x - radius), y: self.low.y.min(p.y - radius) },
            high: Coord { x: self.high.x.max(p.x + radius), y: self.high.y.max(p.y + radius) },
        }
    }

    pub(crate) fn joined(self, other: Self) -> Self {
        self.around(other.low, 0.0).around(other.high, 0.0)
    }

    /// How far apart two boxes are at least; zero where they meet.
    pub(crate) fn apart(&self, other: &Self) -> f64 {
        let gap = |low: f64, high: f64| (low - high).max(0.0);
        libm::hypot(
            gap(self.low.x, other.high.x).max(gap(other.low.x, self.high.x)),
            gap(self.low.y, other.high.y).max(gap(other.low.y, self.high.y)),
        )
    }
}

impl Piece<'_> {
    /// The rings of an area, the outer one first; a path or a disc has none.
    pub(crate) fn rings(&self) -> impl Iterator<Item = &[Point]> + Clone {
        let (ring, holes): (Option<&[Point]>, &[Vec<Point>]) = match self {
            Self::Area { ring, holes } => (Some(ring.as_ref()), holes),
            Self::Path(_) | Self::Disc { .. } => (None, &[]),
        };
        ring.into_iter().chain(holes.iter().map(Vec::as_slice))
    }

    fn open(&self) -> &[Point] {
        match self {
            Self::Path(path) => path,
            Self::Area { .. } | Self::Disc { .. } => &[],
        }
    }

    pub(crate) fn edges(&self) -> impl Iterator<Item = (&Point, &Point)> + Clone {
        let path = self.open();
        self.rings().flat_map(rings::edges).chain(path.iter().zip(path.iter().skip(1)))
    }

    pub(crate) fn points(&self) -> impl Iterator<Item = &Point> {
        let centre = match self {
            Self::Disc { centre, .. } => Some(*centre),
            Self::Area { .. } | Self::Path(_) => None,
        };
        self.rings().flatten().chain(self.open()).chain(centre)
    }

    pub(crate) fn corners(&self) -> impl Iterator<Item = Corner<'_>> {
        let closed = self.rings().flat_map(|ring| {
            (0..ring.len()).map(move |i| Corner {
                before: ring.get(i.checked_sub(1).unwrap_or(ring.len() - 1)),
                at: &ring[i],
                after: ring.get((i + 1) % ring.len()),
            })
        });
        let path = self.open();
        let open = (0..path.len()).map(move |i| Corner {
            before: i.checked_sub(1).and_then(|i| path.get(i)),
            at: &path[i],
            after: path.get(i + 1),
        });
        let centre = match self {
            Self::Disc { centre, .. } => Some(Corner { before: None, at: centre, after: None }),
            Self::Area { .. } | Self::Path(_) => None,
        };
        closed.chain(open).chain(centre)
    }

    pub(crate) fn radius(&self) -> f64 {
        match self {
            Self::Disc { radius, .. } => *radius,
            Self::Area { .. } | Self::Path(_) => 0.0,
        }
    }

    pub(crate) fn bounds(&self) -> Bounds {
        self.points().fold(Bounds::EMPTY, |bounds, p| bounds.around(place(p), self.radius()))
    }

    /// Where a point lies with respect to an area; outside of anything else.
    pub(crate) fn lies(&self, p: Coord<f64>) -> Lies {
        let Self::Area { ring, holes } = self else { return Lies::Outside };
        match rings::lies(ring, p) {
            Lies::Inside => {
                holes.iter().map(|hole| rings::lies(hole, p)).fold(Lies::Inside, |so_far, hole| {
                    match (so_far, hole) {
                        (Lies::OnEdge, _) | (_, Lies::OnEdge) => Lies::OnEdge,
                        (Lies::Outside, _) | (_, Lies::Inside) => Lies::Outside,
                        (Lies::Inside, Lies::Outside) => Lies::Inside,
                    }
                })
            }
            elsewhere => elsewhere,
        }
    }

    /// The largest standard uncertainty of any of its points.
    pub(crate) fn roughness(&self) -> f64 {
        self.points().map(roughness).fold(0.0, f64::max)
    }
}

fn roughness(point: &Point) -> f64 {
    match &point.error {
        ErrorTerms::Exact => 0.0,
        ErrorTerms::Own { sigma, .. } => sigma.metres(),
        ErrorTerms::Sum(terms) => root_sum(terms),
        ErrorTerms::Surveyed(surveyed) => root_sum(surveyed.terms()),
    }
}

fn root_sum(terms: &[ErrorTerm]) -> f64 {
    let square = |v: Length| v.metres() * v.metres();
    libm::sqrt(terms.iter().map(|t| square(t.x) + square(t.y)).sum())
}

/// The pieces of a shape; none when it is absent.
pub(crate) fn pieces(shape: &Shape) -> Pieces<'_> {
    match shape {
        Shape::Outline { ring, holes } => smallvec![Piece::Area { ring: Cow::Borrowed(ring), holes }],
        Shape::Spot(point) => smallvec![Piece::Disc { centre: point, radius: 0.0 }],
        Shape::Disc { centre, radius } => smallvec![Piece::Disc { centre, radius: radius.metres() }],
        Shape::Line { path, width } => match path.as_slice() {
            [] => Pieces::new(),
            [only] => smallvec![Piece::Disc { centre: only, radius: width.metres() / 2.0 }],
            path if width.metres() > 0.0 => strips(path, width.metres() / 2.0),
            path => smallvec![Piece::Path(path)],
        },
        Shape::Absent => Pieces::new(),
    }
}

fn strips(path: &[Point], half: f64) -> Pieces<'_> {
    let segments = path.iter().zip(path.iter().skip(1));
    let bends = path.get(1..path.len() - 1).unwrap_or_default();
    segments
        .filter_map(|(a, b)| strip(a, b, half))
        .chain(bends.iter().map(|centre| Piece::Disc { centre, radius: half }))
        .collect()
}

/// The flat-ended strip along one segment, its corners erring with the ends of the segment.
fn strip<'a>(a: &Point, b: &Point, half: f64) -> Option<Piece<'a>> {
    let along = place(b) - place(a);
    let length = norm(along);
    if length <= 0.0 {
        return None;
    }
    let ahead = along / length;
    let out = right(ahead);
    let corner = |end: &Point, sign: f64| Point {
        at: position(place(end) + out * (half * sign)),
        error: square_off(a, b, std::ptr::eq(end, b), ahead * (half * sign / length), out),
    };
    let ring = vec![corner(a, 1.0), corner(b, 1.0), corner(b, -1.0), corner(a, -1.0)];
    Some(Piece::Area { ring: Cow::Owned(ring), holes: &[] })
}

/// The error of a point set square off one end of a segment: it moves with that end, and turns with the segment.
///
/// Where the ends move by `da` and `db`, the segment turns by `out . (db - da) / length`, and the corner
/// swings back along the segment by the offset times that.
fn square_off(a: &Point, b: &Point, at_b: bool, swing: Coord<f64>, out: Coord<f64>) -> ErrorTerms {
    let mut terms: Vec<ErrorTerm> = Vec::new();
    for (end, sign, carries) in [(a, -1.0, !at_b), (b, 1.0, at_b)] {
        terms.extend(end.error.terms().iter().map(|term| {
            let moved = Coord { x: term.x.metres(), y: term.y.metres() };
            let swung = swing * (-sign * dot(out, moved));
            let total = if carries { moved + swung } else { swung };
            let [x, y] = [total.x, total.y].map(Length::from_metres);
            ErrorTerm { source: term.source, x, y }
        }));
    }
    terms.sort_by_key(|term| term.source);
    terms.dedup_by(|later, first| {
        let same = later.source == first.source;
        if same {
            first.x = first.x + later.x;
            first.y = first.y + later.y;
        }
        same
    });
    if terms.is_empty() { ErrorTerms::Exact } else { ErrorTerms::Sum(terms.into()) }
}
