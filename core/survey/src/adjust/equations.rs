//! Each kind of observation as an equation: its value from the unknowns and how it changes with them.

use std::f64::consts::{FRAC_PI_2, PI};

use super::network::{Linear, Network};
use super::problem::{Plain, Problem};
use super::{Observed, Spot};

/// An observation at the present values: what is computed less what was observed, and its slope in each unknown.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    /// Adjusted minus observed.
    pub(super) off: f64,
    /// In order of unknown, each once.
    pub(super) slopes: Vec<(u32, f64)>,
}

/// A direction and how far it reaches.
#[derive(Clone, Copy)]
struct Reach {
    x: f64,
    y: f64,
    length: f64,
}

/// Which way two coincident points are pulled apart; any direction does, as long as it is always the same.
const APART: (f64, f64) = (0.6, 0.8);

impl Reach {
    fn unit(self) -> (f64, f64) {
        if self.length > 0.0 { (self.x / self.length, self.y / self.length) } else { APART }
    }

    /// One over the length; none for coincident points, whose direction nothing can be learnt from.
    fn inverse(self) -> f64 {
        if self.length > 0.0 { 1.0 / self.length } else { 0.0 }
    }

    /// Clockwise from up.
    fn azimuth(self) -> f64 {
        libm::atan2(self.x, self.y)
    }

    /// Slope of the azimuth in the far end.
    fn turning(self) -> (f64, f64) {
        let (ux, uy) = self.unit();
        (uy * self.inverse(), -ux * self.inverse())
    }
}

/// An angle less whole turns: over `-half`, up to `half`.
fn wrapped(angle: f64, half: f64) -> f64 {
    let whole = 2.0 * half;
    let rest = angle - whole * (angle / whole).round();
    if rest <= -half { rest + whole } else { rest }
}

/// The computed value with slopes in coordinates.
struct Draft<'a> {
    problem: &'a Problem,
    values: &'a [f64],
    slopes: Vec<(u32, f64)>,
    wanted: bool,
}

impl Draft<'_> {
    fn spot(&self, spot: Spot) -> (f64, f64) {
        self.problem
            .spots
            .get(spot.0 as usize)
            .map_or((0.0, 0.0), |[x, y]| (x.at(self.values), y.at(self.values)))
    }

    fn reach(&self, a: Spot, b: Spot) -> Reach {
        let ((ax, ay), (bx, by)) = (self.spot(a), self.spot(b));
        let (x, y) = (bx - ax, by - ay);
        Reach { x, y, length: libm::hypot(x, y) }
    }

    fn slope(&mut self, linear: Option<&Linear>, slope: f64) {
        if let Some(linear) = linear.filter(|_| self.wanted) {
            self.slopes.extend(linear.terms.iter().map(|(unknown, term)| (*unknown, slope * term)));
        }
    }

    /// Adds the slope in both coordinates of a spot.
    fn pull(&mut self, spot: Spot, factor: f64, (x, y): (f64, f64)) {
        let problem = self.problem;
        let pair = problem.spots.get(spot.0 as usize);
        self.slope(pair.map(|pair| &pair[0]), factor * x);
        self.slope(pair.map(|pair| &pair[1]), factor * y);
    }

    fn distance(&mut self, a: Spot, b: Spot, sign: f64) -> f64 {
        let reach = self.reach(a, b);
        self.pull(b, sign, reach.unit());
        self.pull(a, -sign, reach.unit());
        sign * reach.length
    }

    fn azimuth(&mut self, a: Spot, b: Spot, sign: f64) -> f64 {
        let reach = self.reach(a, b);
        self.pull(b, sign, reach.turning());
        self.pull(a, -sign, reach.turning());
        sign * reach.azimuth()
    }

    /// How far along the line `b` lies from `a`.
    fn along(&mut self, line: (Spot, Spot), a: Spot, b: Spot) -> f64 {
        let (direction, reach) = (self.reach(line.0, line.1), self.reach(a, b));
        let (ux, uy) = direction.unit();
        let left = (-uy, ux);
        let across = (reach.x * left.0 + reach.y * left.1) * direction.inverse();
        self.pull(b, 1.0, (ux, uy));
        self.pull(a, -1.0, (ux, uy));
        self.pull(line.1, across, left);
        self.pull(line.0, -across, left);
        reach.x * ux + reach.y * uy
    }

    fn across(&mut self, line: (Spot, Spot), point: Spot) -> f64 {
        let (direction, reach) = (self.reach(line.0, line.1), self.reach(line.0, point));
        let (ux, uy) = direction.unit();
        let left = (-uy, ux);
        let along = (reach.x * ux + reach.y * uy) * direction.inverse();
        self.pull(point, 1.0, left);
        self.pull(line.0, along - 1.0, left);
        self.pull(line.1, -along, left);
        reach.x * left.0 + reach.y * left.1
    }

    fn plain(&mut self, linear: Option<&Linear>, sign: f64) -> f64 {
        self.slope(linear, sign);
        sign * linear.map_or(0.0, |linear| linear.at(self.values))
    }

    fn computed(&mut self, what: &Observed) -> f64 {
        let problem = self.problem;
        let coordinate = |spot: Spot, axis: usize| problem.spots.get(spot.0 as usize).map(|pair| &pair[axis]);
        match *what {
            Observed::Distance(a, b) => self.distance(a, b, 1.0),
            Observed::Equal((a, b), (c, d)) => self.distance(a, b, 1.0) + self.distance(c, d, -1.0),
            Observed::Azimuth(a, b) => self.azimuth(a, b, 1.0),
            Observed::Direction { at, to, orientation } => {
                let zero = problem.orientations.get(orientation.0 as usize);
                self.azimuth(at, to, 1.0) + self.plain(zero, -1.0)
            }
            Observed::Angle { at, from, to } => self.azimuth(at, to, 1.0) + self.azimuth(at, from, -1.0),
            // Azimuths run clockwise, the turn anticlockwise.
            Observed::Parallel((a, b), (c, d)) => self.azimuth(a, b, 1.0) + self.azimuth(c, d, -1.0),
            Observed::Right(spot) => self.plain(coordinate(spot, 0), 1.0),
            Observed::Up(spot) => self.plain(coordinate(spot, 1), 1.0),
            Observed::Station { line, zero, point, origin } => {
                let origin = origin.and_then(|origin| problem.origins.get(origin.0 as usize));
                self.along(line, zero, point) + self.plain(origin, -1.0)
            }
            Observed::Offset { line, point } => self.across(line, point),
            Observed::Piece { line, a, b } => self.along(line, a, b),
            Observed::Height(bench) => self.plain(problem.benches.get(bench.0 as usize), 1.0),
            Observed::Rise(from, to) => {
                self.plain(problem.benches.get(to.0 as usize), 1.0)
                    + self.plain(problem.benches.get(from.0 as usize), -1.0)
            }
            Observed::Source(source) => {
                let at = problem.sources.binary_search_by_key(&source, |(id, _)| *id).ok();
                let Some((_, unknown)) = at.and_then(|at| problem.sources.get(at)) else { return 0.0 };
                if self.wanted {
                    self.slopes.push((*unknown, 1.0));
                }
                self.values.get(*unknown as usize).copied().unwrap_or(0.0)
            }
        }
    }
}

impl Problem {
    /// What is computed at these values less what was observed.
    pub(super) fn off(&self, observation: &Plain, values: &[f64]) -> f64 {
        let mut draft = Draft { problem: self, values, slopes: Vec::new(), wanted: false };
        let computed = draft.computed(&observation.what);
        difference(observation, computed)
    }

    /// The same with its slopes.
    pub(super) fn row(&self, observation: &Plain, values: &[f64]) -> Row {
        let mut draft = Draft { problem: self, values, slopes: Vec::with_capacity(8), wanted: true };
        let computed = draft.computed(&observation.what);
        let mut slopes = draft.slopes;
        merge(&mut slopes);
        Row { off: difference(observation, computed), slopes }
    }

    /// The unknowns an observation rests on.
    pub(super) fn each_unknown(&self, what: &Observed, visit: &mut dyn FnMut(u32)) {
        let mut draft =
            Draft { problem: self, values: &self.start, slopes: Vec::with_capacity(8), wanted: true };
        draft.computed(what);
        for (unknown, _) in draft.slopes {
            visit(unknown);
        }
    }
}

fn difference(observation: &Plain, computed: f64) -> f64 {
    let off = computed - observation.value;
    match observation.what {
        Observed::Parallel(..) => wrapped(off, FRAC_PI_2),
        Observed::Azimuth(..) | Observed::Direction { .. } | Observed::Angle { .. } => wrapped(off, PI),
        _ => off,
    }
}

/// Puts slopes in order of unknown and adds up those of one unknown. Zeros stay, so that the pattern does.
pub(super) fn merge(slopes: &mut Vec<(u32, f64)>) {
    slopes.sort_by_key(|(unknown, _)| *unknown);
    slopes.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
}

impl Network {
    /// True when everything an observation speaks of is in the network.
    pub(super) fn knows(&self, what: &Observed) -> bool {
        let spot = |s: Spot| (s.0 as usize) < self.spots.len();
        let line = |(a, b): (Spot, Spot)| spot(a) && spot(b);
        let bench = |b: super::Bench| (b.0 as usize) < self.benches.len();
        match *what {
            Observed::Distance(a, b) | Observed::Azimuth(a, b) => line((a, b)),
            Observed::Direction { at, to, orientation } => {
                line((at, to)) && (orientation.0 as usize) < self.orientations.len()
            }
            Observed::Angle { at, from, to } => line((at, from)) && spot(to),
            Observed::Right(a) | Observed::Up(a) => spot(a),
            Observed::Station { line: l, zero, point, origin } => {
                line(l) && line((zero, point)) && origin.is_none_or(|o| (o.0 as usize) < self.origins.len())
            }
            Observed::Offset { line: l, point } => line(l) && spot(point),
            Observed::Piece { line: l, a, b } => line(l) && line((a, b)),
            Observed::Parallel(a, b) | Observed::Equal(a, b) => line(a) && line(b),
            Observed::Height(a) => bench(a),
            Observed::Rise(a, b) => bench(a) && bench(b),
            Observed::Source(source) => self.sources.contains_key(&source),
        }
    }
}
