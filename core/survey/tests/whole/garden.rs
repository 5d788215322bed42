//! A lot, a house and trees whose true places are known, and a plan of what was measured of them.

use std::collections::BTreeMap;
use std::fmt::Write as _;

use groundrule_plan::{Source, read_plan};
use groundrule_survey::{Layout, SourceId, resolve};

/// Random numbers from a fixed seed (a 64-bit linear congruence, upper bits).
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// Between 0 and 1, neither of them.
    pub(crate) fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 12) as f64 + 0.5) / 4_503_599_627_370_496.0
    }

    /// Standard normal (Box and Muller).
    pub(crate) fn normal(&mut self) -> f64 {
        let (radius, turn) = (self.even(), self.even());
        libm::sqrt(-2.0 * libm::log(radius)) * libm::cos(2.0 * std::f64::consts::PI * turn)
    }
}

type Xy = (f64, f64);

/// Four lot corners, the four of a house that is square, three trees; metres. The first corner is the origin and the
/// second lies to its right, as a plan without coordinates has them.
pub(crate) fn truth() -> Vec<Xy> {
    let (sin, cos) = libm::sincos(0.1);
    let house = [(0.0, 0.0), (11.0, 0.0), (11.0, 8.6), (0.0, 8.6)];
    let house = house.map(|(x, y)| (6.0 + cos * x - sin * y, 12.0 + sin * x + cos * y));
    let lot = [(0.0, 0.0), (24.0, 0.0), (23.5, 38.0), (-0.4, 37.0)];
    lot.into_iter().chain(house).chain([(3.0, 30.0), (20.0, 6.0), (12.0, 31.0)]).collect()
}

/// Standard uncertainties: of a taped length, of a position read off a picture, of an angle in radians.
const TAPE: f64 = 0.01;
const PICTURE: f64 = 0.05;
const ANGLE: f64 = 0.002;
/// So many of them hold 95 times in a hundred.
const WIDE: f64 = 1.959_963_984_540_054;

/// How the plan is told.
pub(crate) struct Telling<'a> {
    /// The names of the points, in the order of [`truth`].
    pub(crate) names: [&'a str; 11],
    /// Puts the sections of the file in an order.
    pub(crate) shuffle: u64,
    /// The lot corner its outline begins with.
    pub(crate) first: usize,
    /// What holds it.
    pub(crate) frame: Frame,
    /// Where everything is.
    pub(crate) places: Vec<Xy>,
}

#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Frame {
    /// Nothing: the first corner and its side.
    Free,
    /// The first lot corner and one more have exact coordinates.
    Coordinates,
    /// The first lot corner has, and every side of the lot a bearing.
    Bearings,
}

pub(crate) const NAMES: [&str; 11] =
    ["a", "b", "c", "d", "house.p", "house.q", "house.r", "house.s", "elm", "fir", "oak"];

impl Telling<'_> {
    pub(crate) fn plain(places: Vec<Xy>, frame: Frame) -> Self {
        Telling { names: NAMES, shuffle: 0, first: 0, frame, places }
    }

    fn apart(&self, i: usize, j: usize) -> f64 {
        let (a, b) = (self.places[i], self.places[j]);
        libm::hypot(b.0 - a.0, b.1 - a.1)
    }

    /// Of a point along a line, and how far left of it.
    fn on(&self, (i, j): (usize, usize), point: usize) -> Xy {
        let (a, b, p) = (self.places[i], self.places[j], self.places[point]);
        let (dx, dy, px, py) = (b.0 - a.0, b.1 - a.1, p.0 - a.0, p.1 - a.1);
        let length = libm::hypot(dx, dy);
        ((px * dx + py * dy) / length, (dx * py - dy * px) / length)
    }

    /// Clockwise from up, in radians.
    fn azimuth(&self, i: usize, j: usize) -> f64 {
        let (a, b) = (self.places[i], self.places[j]);
        libm::atan2(b.0 - a.0, b.1 - a.1)
    }

    /// The plan, each reading with an error of so many of its standard uncertainties.
    pub(crate) fn plan(&self, error: &mut dyn FnMut() -> f64) -> String {
        let n = |i: usize| self.names[i];
        let mut sections = Vec::new();
        let mut section = |text: String| sections.push(text);
        let sides = [(0, 1), (1, 2), (2, 3), (3, 0)];
        let taped = [(0, 2), (1, 3), (4, 5), (5, 6), (6, 7), (4, 6), (5, 1), (4, 0), (6, 2), (7, 3), (4, 1)];
        // With bearings, the sides are calls of a traverse.
        let single = sides.iter().filter(|_| self.frame != Frame::Bearings).chain(&taped);
        for (i, j) in single {
            let read = self.apart(*i, *j) + TAPE * error();
            section(format!("[[chain]]\nread = [\"{}\", {read:.10}, \"{}\"]\n", n(*i), n(*j)));
        }
        for (tree, from) in [(8, [3, 7, 6]), (9, [1, 5, 4]), (10, [2, 6, 7])] {
            let mut text = format!("[[tie]]\npoint = \"{}\"\nfrom = {{ ", n(tree));
            for (k, i) in from.into_iter().enumerate() {
                let read = self.apart(i, tree) + TAPE * error();
                let _ = write!(text, "{}{} = {read:.10}", if k > 0 { ", " } else { "" }, n(i));
            }
            section(text + " }\n");
        }
        for (at, from, to) in [(1, 0, 2), (2, 1, 3)] {
            let turn = (self.azimuth(at, from) - self.azimuth(at, to)).rem_euclid(2.0 * std::f64::consts::PI);
            let between = turn.min(2.0 * std::f64::consts::PI - turn) + ANGLE * error();
            section(format!(
                "[[angle]]\nat = \"{}\"\nfrom = \"{}\"\nto = \"{}\"\nbetween = \"{:.10} deg\"\n",
                n(at),
                n(from),
                n(to),
                between.to_degrees()
            ));
        }
        // A chain read off a picture: every position errs, so that neighbouring pieces err against each other.
        let mut before = PICTURE * error();
        let mut text = format!("[[chain]]\nabreast = true\nby = \"picture\"\nread = [\"{}\"", n(0));
        for mark in [4, 5, 1] {
            let read = self.on((0, 1), mark).0 + PICTURE * error();
            let _ = write!(text, ", {:.10}, \"{}\"", read - before, n(mark));
            before = read;
        }
        let overall = self.apart(0, 1) + std::f64::consts::SQRT_2 * PICTURE * error();
        section(format!("{text}]\noverall = {overall:.10}\n"));
        // Offsets from the left side of the lot.
        let (station, off) = self.on((3, 0), 8);
        let (station, off) = (station + TAPE * error(), off + TAPE * error());
        section(format!(
            "[[offsets]]\nalong = [\"{}\", \"{}\"]\npoints = {{ {} = [{station:.10}, \"{:.10} m {}\"] }}\n",
            n(3),
            n(0),
            n(8),
            off.abs(),
            if off > 0.0 { "left" } else { "right" }
        ));
        section("[[fact]]\nsquare = \"house\"\n".to_owned());
        if self.frame == Frame::Bearings {
            let mut text = format!("[[traverse]]\nfrom = \"{}\"\ncalls = [\n", n(0));
            for (i, j) in sides {
                let bearing = (self.azimuth(i, j) + ANGLE * error()).to_degrees().rem_euclid(360.0);
                let read = self.apart(i, j) + TAPE * error();
                let _ = writeln!(
                    text,
                    "  {{ to = \"{}\", bearing = {bearing:.10}, distance = {read:.10} }},",
                    n(j)
                );
            }
            section(text + "]\n");
        }
        let ring = |of: [usize; 4]| of.map(|i| format!("\"{}\"", n(i))).join(", ");
        let lot = [0, 1, 2, 3].map(|i| (i + self.first) % 4);
        section(format!("[lot]\ncorners = [{}]\n", ring(lot)));
        section(format!(
            "[[feature]]\nid = \"house\"\nkind = \"dwelling\"\nstatus = \"existing\"\noutline = [{}]\n",
            ring([4, 5, 6, 7])
        ));
        if self.frame == Frame::Coordinates {
            let mut text = "[points]\n".to_owned();
            for i in [0, 2] {
                let (x, y) = self.places[i];
                let _ = writeln!(text, "{} = {{ at = [{x:.10}, {y:.10}], by = \"design\" }}", n(i));
            }
            section(text);
        }
        if self.shuffle > 0 {
            let mut dice = Dice(self.shuffle);
            let mut keyed: Vec<(f64, String)> =
                sections.into_iter().map(|text| (dice.even(), text)).collect();
            keyed.sort_by(|a, b| a.0.total_cmp(&b.0));
            sections = keyed.into_iter().map(|(_, text)| text).collect();
        }
        let north = if self.frame == Frame::Bearings { "north = \"up\"\n" } else { "" };
        let classes = format!(
            "[site]\nname = \"A garden\"\nunits = \"m\"\n{north}by = \"measured\"\n\n[accuracy]\nmeasured = {{ plus_minus = \"{} m\", \
             angle = \"{} deg\" }}\npicture = {{ plus_minus = \"{} m\", of_each = \"position\" }}\n\n",
            TAPE * WIDE,
            (ANGLE * WIDE).to_degrees(),
            PICTURE * WIDE
        );
        classes + &sections.join("\n")
    }

    /// What became of the plan.
    #[track_caller]
    pub(crate) fn layout(&self, error: &mut dyn FnMut() -> f64) -> Layout {
        let text = self.plan(error);
        let source = Source { name: "garden.toml".to_owned(), text: text.clone().into() };
        let plan = read_plan(&source).unwrap_or_else(|faults| panic!("{text}\n{faults:#?}"));
        let (layout, _) = resolve(&plan).unwrap_or_else(|faults| panic!("{text}\n{faults:#?}"));
        for name in self.names {
            assert!(layout.named.contains_key(name), "{name} has no place\n{text}");
        }
        layout
    }

    /// The distance between two points and its standard uncertainty.
    pub(crate) fn distance(&self, layout: &Layout, i: usize, j: usize) -> (f64, f64) {
        let (p, q) = (&layout.named[self.names[i]], &layout.named[self.names[j]]);
        let (dx, dy) = ((q.at.x - p.at.x).metres(), (q.at.y - p.at.y).metres());
        let length = libm::hypot(dx, dy);
        let mut moves: BTreeMap<SourceId, f64> = BTreeMap::new();
        for (point, sign) in [(p, -1.0), (q, 1.0)] {
            for term in point.error.terms() {
                *moves.entry(term.source).or_default() +=
                    sign * (term.x.metres() * dx + term.y.metres() * dy) / length;
            }
        }
        (length, libm::sqrt(moves.values().map(|by| by * by).sum()))
    }
}
