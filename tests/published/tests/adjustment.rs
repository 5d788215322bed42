//! The least-squares engine against networks worked in text books and other sources outside the project.
//!
//! The networks of `adjustment_networks.json` are worked examples of the books named in it, as gathered in
//! F. Krumm, Geodetic Network Adjustment Examples, University of Stuttgart, rev. 3.5, 2020.

#![allow(clippy::expect_used, clippy::panic, reason = "a test ends where something it needs is not there")]

use std::collections::BTreeMap;

use groundrule_survey::adjust::{
    Adjusted, Bench, Network, Observation, ObservationId, Observed, Orientation, Settings, Spot, statistics,
};
use groundrule_survey::{PointHeight, Position, SourceId};
use groundrule_units::{Angle, Length, Quantity};
use serde_json::Value;

/// Coordinates, in the unit of the network: half of what the sources print, and rounding.
const PLACE: f64 = 5e-7;

#[track_caller]
fn near(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: found {found}, expected {expected}");
}

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn numbers(value: &Value) -> Vec<f64> {
    value.as_array().expect("a list").iter().map(number).collect()
}

fn names(value: &Value) -> Vec<&str> {
    value.as_array().expect("a list").iter().map(|name| name.as_str().expect("a name")).collect()
}

fn at(x: f64, y: f64) -> Position {
    Position { x: Length::from_metres(x), y: Length::from_metres(y) }
}

/// A network with its points by name.
#[derive(Default)]
struct Net {
    network: Network,
    spots: BTreeMap<String, Spot>,
    benches: BTreeMap<String, Bench>,
    orientations: BTreeMap<String, Orientation>,
    ids: Vec<ObservationId>,
}

impl Net {
    fn points<const N: usize>(held: &[(&str, f64, f64)], sought: [(&str, f64, f64); N]) -> Self {
        let mut net = Self::default();
        for (name, x, y) in held {
            let spot = net.network.fixed(at(*x, *y));
            net.spots.insert((*name).to_owned(), spot);
        }
        for (name, x, y) in sought {
            let spot = net.network.point(at(x, y));
            net.spots.insert(name.to_owned(), spot);
        }
        net
    }

    fn levels(held: &[(&str, f64)], sought: &[&str]) -> Self {
        let mut net = Self::default();
        for (name, height) in held {
            let bench = net.network.fixed_height(Length::from_metres(*height));
            net.benches.insert((*name).to_owned(), bench);
        }
        for name in sought {
            let bench = net.network.height(Length::ZERO);
            net.benches.insert((*name).to_owned(), bench);
        }
        net
    }

    /// An observation as the data files write it: kind, points, value, standard uncertainty.
    fn observe(&mut self, kind: &str, points: &str, value: f64, sigma: f64) -> ObservationId {
        let names: Vec<&str> = points.split(' ').collect();
        let spot = |i: usize| self.spots[names[i]];
        let (mut value, what) = (
            value,
            match kind {
                "dist" => Observed::Distance(spot(0), spot(1)),
                "azi" => Observed::Azimuth(spot(0), spot(1)),
                "angle" => Observed::Angle { at: spot(0), from: spot(1), to: spot(2) },
                "x" => Observed::Right(spot(0)),
                "y" => Observed::Up(spot(0)),
                "h" => Observed::Height(self.benches[names[0]]),
                "dh" => Observed::Rise(self.benches[names[0]], self.benches[names[1]]),
                "sta" => Observed::Station {
                    line: (spot(1), spot(2)),
                    zero: spot(1),
                    point: spot(0),
                    origin: None,
                },
                "off" => Observed::Offset { line: (spot(1), spot(2)), point: spot(0) },
                "par" => Observed::Parallel((spot(2), spot(3)), (spot(0), spot(1))),
                "dir" => {
                    let (at, to) = (spot(0), spot(1));
                    let orientation = *self.orientations.entry(names[0].to_owned()).or_insert_with(|| {
                        // The first direction of a set gives its start.
                        let start = azimuth(&self.network, at, to) - value;
                        self.network.orientation(Angle::from_radians(start))
                    });
                    Observed::Direction { at, to, orientation }
                }
                other => panic!("unknown kind {other}"),
            },
        );
        if kind == "off" {
            // The files count offsets to the right, the engine to the left.
            value = -value;
        }
        let dimension = what.dimension();
        let id = self.network.observe(Observation {
            what,
            value: Quantity::new(dimension, value),
            sigma: Quantity::new(dimension, sigma),
        });
        self.ids.push(id);
        id
    }

    fn adjust(&self, free: &[&str]) -> Adjusted {
        let settings = Settings {
            free: free.iter().filter_map(|name| self.spots.get(*name).copied()).collect(),
            free_heights: free.iter().filter_map(|name| self.benches.get(*name).copied()).collect(),
            ..Settings::default()
        };
        self.network.adjust(&settings).unwrap_or_else(|errors| panic!("not adjusted: {errors:?}"))
    }

    fn place(&self, done: &Adjusted, name: &str) -> Vec<f64> {
        if let Some(bench) = self.benches.get(name) {
            return vec![done.height(*bench).metres()];
        }
        let place = done.position(self.spots[name]);
        vec![place.x.metres(), place.y.metres()]
    }

    fn spread(&self, done: &Adjusted, name: &str) -> Vec<f64> {
        if let Some(bench) = self.benches.get(name) {
            let squares =
                done.height_terms(*bench).iter().map(|(_, term)| term.metres() * term.metres()).sum();
            return vec![libm::sqrt(squares)];
        }
        let spread = done.covariance(self.spots[name], self.spots[name]);
        vec![libm::sqrt(spread.xx.square_metres()), libm::sqrt(spread.yy.square_metres())]
    }
}

/// The azimuth between the starting places of two points, found by adjusting nothing.
fn azimuth(network: &Network, a: Spot, b: Spot) -> f64 {
    let (a, b) = (network.start(a), network.start(b));
    libm::atan2((b.x - a.x).metres(), (b.y - a.y).metres())
}

fn net_of(case: &Value, hold: bool) -> Net {
    let mut net = Net::default();
    let held = names(&case["held"]);
    for (name, place) in case["points"].as_object().expect("points") {
        let place = numbers(place);
        let held = hold && held.contains(&name.as_str());
        match place[..] {
            [height] => {
                let height = Length::from_metres(height);
                let network = &mut net.network;
                let bench = match case["placed"][name].as_array() {
                    Some(shares) => network.placed_height(&placed(height, shares)),
                    None if held => network.fixed_height(height),
                    None => network.height(height),
                };
                net.benches.insert(name.clone(), bench);
            }
            [x, y] => {
                let network = &mut net.network;
                let spot = if held { network.fixed(at(x, y)) } else { network.point(at(x, y)) };
                net.spots.insert(name.clone(), spot);
            }
            _ => panic!("one or two coordinates"),
        }
    }
    for observed in case["observed"].as_array().expect("observations") {
        let text = |i: usize| observed[i].as_str().expect("text");
        net.observe(text(0), text(1), number(&observed[2]), number(&observed[3]));
    }
    net
}

/// A height with an error of sources that others share.
fn placed(height: Length, shares: &[Value]) -> PointHeight {
    let share = |share: &Value| {
        let source = u32::try_from(share[0].as_u64().expect("a source")).expect("a small number");
        (SourceId(source), Length::from_metres(number(&share[1])))
    };
    PointHeight { height, error: shares.iter().map(share).collect() }
}

fn networks() -> Vec<Value> {
    let file: Value = serde_json::from_str(include_str!("../data/adjustment_networks.json")).expect("JSON");
    file["networks"].as_array().expect("networks").clone()
}

fn network(name: &str) -> Value {
    networks().into_iter().find(|case| case["name"] == name).unwrap_or_else(|| panic!("no network {name}"))
}

#[test]
fn networks_of_the_text_books() {
    for case in networks() {
        let name = case["name"].as_str().expect("a name");
        let net = net_of(&case, true);
        let done = net.adjust(&names(&case["carry"]));
        let s0 = done.s0().unwrap_or_else(|| panic!("{name} has no redundancy"));
        near(name, done.weighted_sum(), number(&case["sum"]), 1e-6 * number(&case["sum"]));
        assert_eq!(
            u64::from(done.degrees_of_freedom()),
            case["degrees"].as_u64().expect("degrees"),
            "{name}"
        );
        near(name, s0, number(&case["s0"]), 1e-6 * number(&case["s0"]));
        let test = done.chi_square(0.95).expect("redundancy");
        for (bound, expected) in [test.low, test.high].iter().zip(numbers(&case["bounds"])) {
            near(name, *bound, expected, 1e-9);
        }
        for (point, expected) in case["adjusted"].as_object().expect("places") {
            for (found, expected) in net.place(&done, point).iter().zip(numbers(expected)) {
                near(&format!("{name} {point}"), *found, expected, PLACE);
            }
            for (found, expected) in net.spread(&done, point).iter().zip(numbers(&case["sigma"][point])) {
                near(&format!("{name} spread of {point}"), *found, expected, 2e-6 * expected);
            }
        }
        for (station, expected) in case["orientations"].as_object().expect("orientations") {
            let found = done.orientation(net.orientations[station]).radians() - number(expected);
            let turn = std::f64::consts::TAU;
            near(&format!("{name} {station}"), found - turn * (found / turn).round(), 0.0, 1e-9);
        }
        for (point, expected) in case["ellipses"].as_object().expect("ellipses") {
            let (found, expected) = (done.ellipse(net.spots[point]), numbers(expected));
            near(&format!("{name} a of {point}"), found.a.metres(), expected[0], 2e-6 * expected[0]);
            near(&format!("{name} b of {point}"), found.b.metres(), expected[1], 2e-6 * expected[1]);
            near(&format!("{name} azimuth of {point}"), found.azimuth.degrees(), expected[2], 2e-3);
        }
        let (residuals, redundancy, w) =
            (numbers(&case["residuals"]), numbers(&case["redundancy"]), &case["w"]);
        for (i, id) in net.ids.iter().enumerate() {
            let what = format!("{name} observation {i}");
            near(&what, done.residual(*id).si(), residuals[i], PLACE);
            near(&what, done.redundancy(*id), redundancy[i], 1e-5);
            match (done.standardised(*id), w[i].as_f64()) {
                (Some(found), Some(expected)) => near(&what, found, expected, 1e-4 * (1.0 + expected.abs())),
                // Where nothing checks, the solver divides rounding by rounding.
                (found, _) => assert!(found.is_none() && redundancy[i] < 1e-9, "{what}: {found:?}"),
            }
        }
        printed(&case, &net, &done, s0);
    }
}

/// The figures as the books print them.
fn printed(case: &Value, net: &Net, done: &Adjusted, s0: f64) {
    let name = case["name"].as_str().expect("a name");
    let Some(printed) = case.get("printed") else { return };
    let unit = number(&printed["sigma_unit_m"]);
    for (point, expected) in printed["values"].as_object().expect("values") {
        let found: Vec<f64> = net
            .place(done, point)
            .into_iter()
            .chain(net.spread(done, point).iter().map(|s| s * s0 / unit))
            .collect();
        let coordinates = found.len() / 2;
        // Heights are printed with sigmas to two places, plane nets with three; coordinates with four.
        let digit = if coordinates == 1 { 0.005_001 } else { 0.000_501 };
        for (i, (found, expected)) in found.iter().zip(numbers(expected)).enumerate() {
            let tolerance = if i < coordinates { 0.000_050_5 } else { digit };
            near(&format!("{name} as printed, {point}"), *found, expected, tolerance);
        }
    }
}

/// Niemeier, Ausgleichungsrechnung, 2nd ed. 2008, the same levels as a free net with its datum on 1, 3 and 5; in
/// Krumm's collection.
#[test]
fn free_levels() {
    let net = net_of(&network("Niemeier Height fix1"), false);
    let done = net.adjust(&["1", "3", "5"]);
    let expected = [68.924_873, 60.716_658, 63.195_169, 56.285_226, 44.323_958, 67.229_404];
    for (point, expected) in ["1", "2", "3", "4", "5", "6"].iter().zip(expected) {
        near(point, net.place(&done, point)[0], expected, PLACE);
    }
    near("sum", done.weighted_sum(), 46.081_729_76, 1e-6);
    assert_eq!(done.degrees_of_freedom(), 4);
}

/// A level net of Strang and Borre, Linear Algebra, Geodesy, and GPS, as worked at rplstoday.com ("How would you
/// adjust this leveling data?"): 0.006 m per root of a kilometre.
#[test]
fn levels_of_strang_and_borre() {
    let mut net = Net::levels(&[("A", 10.021), ("B", 10.321), ("C", 11.002)], &["E", "F"]);
    for (points, rise, metres) in [
        ("A E", 0.732, 970.0),
        ("A F", 1.978, 1002.0),
        ("B E", 0.420, 1070.0),
        ("C F", 0.988, 1110.0),
        ("E F", 1.258, 890.0),
    ] {
        net.observe("dh", points, rise, 0.006 * libm::sqrt(metres / 1000.0));
    }
    let done = net.adjust(&[]);
    near("E", net.place(&done, "E")[0], 10.744_502_639, 1e-9);
    near("F", net.place(&done, "F")[0], 11.997_619_501, 1e-9);
    near("sum, printed 4.636", done.weighted_sum(), 4.636_159_191, 1e-8);
    near("s0, printed 1.243", done.s0().expect("redundancy"), 1.243_135_711, 1e-8);
    let test = done.chi_square(0.95).expect("redundancy");
    near("low, printed 0.268", libm::sqrt(test.low / 3.0), 0.268, 5e-4);
    near("high, printed 1.765", libm::sqrt(test.high / 3.0), 1.765, 5e-4);
    assert!(test.passed);
    let w = [-1.834_979_89, -0.292_343_24, 0.699_912_31, 1.488_961_13, -1.268_871_14];
    for (id, w) in net.ids.iter().zip(w) {
        near("w", done.standardised(*id).expect("checked"), w, 1e-7);
    }
}

/// Eight lines there and back in a loop, from vrmapper.com/gama/1doutput.
#[test]
fn levels_there_and_back() {
    let mut net = Net::levels(&[("1", 1000.0)], &["2", "3", "4"]);
    for (points, rise) in [
        ("1 4", -1.225),
        ("4 3", -0.848),
        ("3 2", 1.342),
        ("2 1", 0.720),
        ("1 2", -0.724),
        ("2 3", -1.335),
        ("3 4", 0.842),
        ("4 1", 1.231),
    ] {
        net.observe("dh", points, rise, 0.005);
    }
    let done = net.adjust(&[]);
    for (point, height, millimetres) in
        [("4", 998.775_125, 3.061_862), ("3", 997.933_250, 3.535_534), ("2", 999.274_875, 3.061_862)]
    {
        near(point, net.place(&done, point)[0], height, 1e-9);
        near(point, net.spread(&done, point)[0] * 1000.0, millimetres, 1e-6);
    }
    near("[pvv], mm^2", done.weighted_sum() * 25.0, 146.625, 1e-8);
    let largest =
        net.ids.iter().filter_map(|id| done.standardised(*id)).fold(0.0, |m: f64, w| m.max(w.abs()));
    near("largest w, printed 1.68", largest, 1.676_007_16, 1e-8);
}

/// J. Mahun's level circuit; the heights of its benchmarks follow from the printed residuals, so to 0.0015 only.
#[test]
fn levels_of_mahun() {
    for (weighted, q, r, s0) in [
        (false, 815.418_421_05, 802.962_105_26, 0.029_049_26),
        (true, 815.425_182_19, 802.958_866_40, 0.066_740_18),
    ] {
        let held = [("BMA", 806.52), ("BMB", 818.32), ("BMC", 820.12), ("BMD", 824.04)];
        let mut net = Net::levels(&held, &["Q", "R"]);
        for (points, rise, setups) in [
            ("BMA Q", 8.91, 3.0),
            ("BMB Q", -2.92, 2.0),
            ("BMC Q", -4.67, 1.0),
            ("BMD Q", -8.66, 3.0),
            ("BMA R", -3.56, 3.0),
            ("BMC R", -17.12, 4.0),
            ("BMD R", -21.10, 2.0),
            ("Q R", -12.47, 3.0),
        ] {
            net.observe("dh", points, rise, if weighted { libm::sqrt(setups / 12.0) } else { 1.0 });
        }
        let done = net.adjust(&[]);
        near("Q", net.place(&done, "Q")[0], q, 1e-8);
        near("R", net.place(&done, "R")[0], r, 1e-8);
        near("s0", done.s0().expect("redundancy"), s0, 1e-8);
    }
}

/// Mikhail and Ackermann, Observations and Least Squares, example 4.3: y = [[2, 1], [1, 2]] x with the covariance
/// [[3, 1], [1, 3]] of y. Its inverse root turns the two equations into independent ones: the sum of the y has
/// variance 8, the difference 4.
#[test]
fn an_ellipse_of_mikhail_and_ackermann() {
    let mut net = Net::points(&[("O", 0.0, 0.0)], [("P", 0.3, 0.2)]);
    // The sum of both is 3 (x1 + x2), the difference x1 - x2: offsets from lines at 45 degrees, times root 2.
    for (name, x, y) in [("U", 1.0, 1.0), ("V", 1.0, -1.0)] {
        let spot = net.network.fixed(at(x, y));
        net.spots.insert(name.to_owned(), spot);
    }
    let root = libm::sqrt(2.0);
    net.observe("off", "P O V", 0.0, libm::sqrt(8.0) / (3.0 * root));
    net.observe("off", "P O U", 0.0, 2.0 / root);
    let done = net.adjust(&[]);
    let p = net.spots["P"];
    let spread = done.covariance(p, p);
    near("var x1", spread.xx.square_metres(), 11.0 / 9.0, 1e-12);
    near("cov", spread.xy.square_metres(), -7.0 / 9.0, 1e-12);
    near("var x2", spread.yy.square_metres(), 11.0 / 9.0, 1e-12);
    let ellipse = done.ellipse(p);
    near("a", ellipse.a.metres(), root, 1e-12);
    near("b", ellipse.b.metres(), 2.0 / 3.0, 1e-12);
    near("azimuth", ellipse.azimuth.degrees(), 135.0, 1e-9);
}

/// A made-up lot with every kind of observation, solved by an independent dense solver (numpy) and by
/// `scipy.optimize.least_squares`.
#[test]
fn a_garden_lot() {
    let case: Value = serde_json::from_str(include_str!("../data/garden_lot.json")).expect("JSON");
    let mut net = Net::points(&[("A", 0.0, 0.0)], []);
    let (order, values) = (names(&case["order"]), numbers(&case["values"]));
    for (pair, place) in order.chunks(2).zip(values.chunks(2)) {
        let name = pair[0].trim_end_matches(".x");
        // Off by what a rough sketch is off.
        let spot = net.network.point(at(place[0] + 0.4, place[1] - 0.3));
        net.spots.insert(name.to_owned(), spot);
    }
    let observed = case["observed"].as_array().expect("observations");
    for o in observed {
        net.observe(
            o[0].as_str().expect("kind"),
            o[1].as_str().expect("points"),
            number(&o[2]),
            number(&o[3]),
        );
    }
    let done = net.adjust(&[]);
    for (pair, place) in order.chunks(2).zip(values.chunks(2)) {
        let name = pair[0].trim_end_matches(".x");
        let found = net.place(&done, name);
        near(name, found[0], place[0], 1e-8);
        near(name, found[1], place[1], 1e-8);
    }
    near("sum", done.weighted_sum(), number(&case["sum"]), 1e-7);
    assert_eq!(done.degrees_of_freedom(), 7);
    for (i, row) in order.iter().step_by(2).enumerate() {
        for (j, column) in order.iter().step_by(2).enumerate() {
            let (a, b) = (row.trim_end_matches(".x"), column.trim_end_matches(".x"));
            let c = done.covariance(net.spots[a], net.spots[b]);
            let found = [[c.xx, c.xy], [c.yx, c.yy]];
            for (k, l) in [(0, 0), (0, 1), (1, 0), (1, 1)] {
                let expected = number(&case["covariance"][2 * i + k][2 * j + l]);
                near(&format!("{a} {b}"), found[k][l].square_metres(), expected, 1e-9);
            }
        }
    }
    for (o, id) in observed.iter().zip(&net.ids) {
        let what = o.to_string();
        let sign = if o[0] == "off" { -1.0 } else { 1.0 };
        near(&what, sign * done.residual(*id).si(), number(&o[4]), 1e-8);
        near(&what, done.redundancy(*id), number(&o[5]), 1e-7);
        match (done.standardised(*id), o[6].as_f64()) {
            (Some(w), Some(expected)) => near(&what, sign * w, expected, 1e-5),
            (found, expected) => assert_eq!(found, expected, "{what}"),
        }
        match (done.detectable(*id), o[7].as_f64()) {
            // The solver took 4.1313 for 4.132148.
            (Some(bias), Some(expected)) => {
                near(&what, bias.si(), expected * 4.132_147_965 / 4.1313, 1e-5 * expected);
            }
            (found, expected) => assert_eq!(found.map(Quantity::si), expected, "{what}"),
        }
    }
}

/// A blunder among four ties, found by its standardised residual and then taken out. Solved by an independent
/// dense solver (numpy) and by `scipy.optimize.least_squares`.
#[test]
fn a_blunder_among_ties() {
    let expected: [(f64, [f64; 4], f64); 3] = [
        (46.91, [-0.335_668, 0.569_600, -0.594_075, 0.560_718], 0.523_722_038),
        (47.91, [-32.690_755, 9.216_154, -37.011_899, 8.806_777], 26.171_926_104),
        (47.01, [-3.591_924, 1.425_849, -4.233_007, 1.354_038], 3.009_293_443),
    ];
    // Corners of a lot of 60 by 45; the ties of the clean case meet at (22.3, 17.1).
    let held = [("A", 0.0, 0.0), ("B", 60.0, 0.0), ("C", 60.0, 45.0), ("D", 0.0, 45.0)];
    for (c, w, s0) in expected {
        let mut net = Net::points(&held, [("T", 20.0, 20.0)]);
        for (from, length) in [("A", 28.106), ("B", 41.385), ("C", c), ("D", 35.714)] {
            net.observe("dist", &format!("{from} T"), length, 0.02);
        }
        let done = net.adjust(&[]);
        near("s0", done.s0().expect("redundancy"), s0, 1e-6);
        for (id, w) in net.ids.iter().zip(w) {
            near("w", done.standardised(*id).expect("checked"), w, 2e-6);
        }
    }
}

/// Published and recomputed critical values: Baarda's test of 1968 at 0.1 % and 80 %, Pope's tau of 1976, error
/// ellipses at 95 % with known and with estimated variance; `scipy.stats` to twelve digits.
#[test]
fn critical_values() {
    let some = |value: Option<f64>| value.expect("in range");
    near("w", some(statistics::baarda_critical(0.001)), 3.290_526_731_491_925_5, 1e-12);
    near("delta", statistics::detectable_bias(0.001, 0.8), 4.132_147_965_064_84, 1e-12);
    for (degrees, tau) in [
        (2, 1.414_211_817_657_404),
        (3, 1.730_318_756_761_308_5),
        (5, 2.178_081_788_276_293_7),
        (10, 2.678_597_827_684_774),
        (15, 2.873_497_810_707_002),
        (30, 3.078_456_494_948_751_4),
    ] {
        near("tau", some(statistics::pope_critical(0.001, degrees)), tau, 1e-9);
    }
    near("known", some(statistics::ellipse_factor(0.95)), 2.447_746_830_680_816, 1e-12);
    for (degrees, factor) in [
        (1, 19.974_984_355_438_16),
        (2, 6.164_414_002_968_973),
        (3, 4.370_833_901_195_778),
        (5, 3.401_803_945_952_783_3),
        (10, 2.864_549_184_472_279),
        (30, 2.575_200_769_265_775_7),
    ] {
        near("estimated", some(statistics::ellipse_factor_estimated(0.95, degrees)), factor, 1e-9);
    }
    near("inside", statistics::ellipse_chance(1.0), 0.393_469_340_287_366_6, 1e-14);
    // JCGM 106:2012, 7.3, table 1.
    for (chance, z) in [
        (0.8, 0.841_621_233_573),
        (0.9, 1.281_551_565_545),
        (0.95, 1.644_853_626_951),
        (0.975, 1.959_963_984_540),
        (0.99, 2.326_347_874_041),
        (0.995, 2.575_829_303_549),
        (0.999, 3.090_232_306_168),
    ] {
        near("z", some(statistics::normal_quantile(chance)), z, 1e-12);
        near("-z", some(statistics::normal_quantile(1.0 - chance)), -z, 1e-11);
    }
    // GUM table G.2, 95.45 %; the sixth figure from scipy.stats.
    for (degrees, t) in [
        (1, 13.967_8),
        (2, 4.526_55),
        (3, 3.306_83),
        (4, 2.869_32),
        (5, 2.648_65),
        (10, 2.283_68),
        (20, 2.133_03),
        (50, 2.051_25),
    ] {
        let chance = statistics::normal_chance(2.0);
        near("t", some(statistics::student_quantile(chance, degrees)), t, 1e-4 * t);
    }
}
