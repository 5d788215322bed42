//! What has to hold for any network: it does not matter how it lies and in what order it is told, and repeated
//! surveys scatter as the engine says they do.

#![allow(clippy::expect_used, reason = "a network that is not adjusted ends its test")]

use groundrule_survey::Position;
use groundrule_survey::adjust::{Adjusted, Network, Observation, Observed, Settings, Spot, statistics};
use groundrule_units::{Angle, Length, Quantity};

/// Random numbers from a fixed seed (a 64-bit linear congruence, upper bits).
struct Dice(u64);

impl Dice {
    /// Between 0 and 1, neither of them.
    fn even(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 12) as f64 + 0.5) / 4_503_599_627_370_496.0
    }

    /// Standard normal (Box and Muller).
    fn normal(&mut self) -> f64 {
        let (radius, turn) = (self.even(), self.even());
        libm::sqrt(-2.0 * libm::log(radius)) * libm::cos(2.0 * std::f64::consts::PI * turn)
    }
}

/// Corners of a lot and a house, two posts and a tree.
const TRUTH: [(f64, f64); 11] = [
    (0.0, 0.0),
    (24.0, 0.5),
    (23.5, 38.0),
    (-0.4, 37.0),
    (6.0, 12.0),
    (17.0, 12.3),
    (16.8, 21.0),
    (5.9, 20.6),
    (3.0, 30.0),
    (20.0, 6.0),
    (12.0, 29.0),
];

#[derive(Clone, Copy)]
enum Kind {
    Distance(usize, usize),
    Angle(usize, usize, usize),
    Station(usize, usize, usize),
    Offset(usize, usize, usize),
}

fn measured() -> Vec<(Kind, f64)> {
    use Kind::{Angle, Distance, Offset, Station};
    let tape = [
        (0, 1),
        (1, 2),
        (2, 3),
        (3, 0),
        (0, 2),
        (1, 3),
        (4, 5),
        (5, 6),
        (6, 7),
        (7, 4),
        (4, 6),
        (0, 4),
        (1, 5),
        (2, 6),
        (3, 7),
        (8, 3),
        (8, 7),
        (8, 10),
        (9, 1),
        (9, 5),
        (9, 0),
        (10, 2),
        (10, 6),
        (10, 3),
    ];
    let angles = [(1, 0, 2), (2, 1, 3), (3, 2, 0)];
    let feet = [(0, 1, 4), (0, 1, 5), (1, 2, 6), (2, 3, 10), (3, 0, 8)];
    let mut all: Vec<(Kind, f64)> = tape.map(|(a, b)| (Distance(a, b), 0.01)).to_vec();
    all.extend(angles.map(|(at, from, to)| (Angle(at, from, to), 0.002)));
    all.extend(feet.map(|(a, b, p)| (Station(a, b, p), 0.02)));
    all.extend(feet.map(|(a, b, p)| (Offset(a, b, p), 0.02)));
    all
}

/// The network of a survey of these places, told in this order, the first corner and the way to the second held.
fn network(
    truth: &[(f64, f64)],
    order: &[usize],
    errors: &mut dyn FnMut(usize) -> f64,
    rough: f64,
) -> (Network, Vec<Spot>) {
    let mut n = Network::new();
    let at = |(x, y): (f64, f64)| Position { x: Length::from_metres(x), y: Length::from_metres(y) };
    let mut spots = vec![None; truth.len()];
    for i in order {
        let (x, y) = truth[*i];
        spots[*i] = Some(if *i == 0 { n.fixed(at((x, y))) } else { n.point(at((x + rough, y - rough))) });
    }
    let spots: Vec<Spot> = spots.into_iter().flatten().collect();
    let azimuth = |a: usize, b: usize| libm::atan2(truth[b].0 - truth[a].0, truth[b].1 - truth[a].1);
    let along = |a: usize, b: usize, p: usize| {
        let (dx, dy) = (truth[b].0 - truth[a].0, truth[b].1 - truth[a].1);
        let (px, py) = (truth[p].0 - truth[a].0, truth[p].1 - truth[a].1);
        let length = libm::hypot(dx, dy);
        ((px * dx + py * dy) / length, (dx * py - dy * px) / length)
    };
    let mut all: Vec<(usize, (Kind, f64))> = measured().into_iter().enumerate().collect();
    all.sort_by_key(|(i, _)| order[*i % order.len()]);
    let mut add = |what: Observed, value: f64, sigma: f64| {
        let dimension = what.dimension();
        n.observe(Observation {
            what,
            value: Quantity::new(dimension, value),
            sigma: Quantity::new(dimension, sigma),
        });
    };
    add(Observed::Azimuth(spots[0], spots[1]), azimuth(0, 1), 0.0);
    for (i, (kind, sigma)) in all {
        let (what, value) = match kind {
            Kind::Distance(a, b) => (
                Observed::Distance(spots[a], spots[b]),
                libm::hypot(truth[b].0 - truth[a].0, truth[b].1 - truth[a].1),
            ),
            Kind::Angle(at, from, to) => (
                Observed::Angle { at: spots[at], from: spots[from], to: spots[to] },
                azimuth(at, to) - azimuth(at, from),
            ),
            Kind::Station(a, b, p) => (
                Observed::Station {
                    line: (spots[a], spots[b]),
                    zero: spots[a],
                    point: spots[p],
                    origin: None,
                },
                along(a, b, p).0,
            ),
            Kind::Offset(a, b, p) => {
                (Observed::Offset { line: (spots[a], spots[b]), point: spots[p] }, along(a, b, p).1)
            }
        };
        add(what, value + sigma * errors(i), sigma);
    }
    (n, spots)
}

fn adjusted(n: &Network) -> Adjusted {
    n.adjust(&Settings::default()).expect("the network is sound")
}

fn place(done: &Adjusted, spot: Spot) -> (f64, f64) {
    (done.position(spot).x.metres(), done.position(spot).y.metres())
}

#[test]
fn it_does_not_matter_how_a_network_lies_or_is_told() {
    let plain: Vec<usize> = (0..TRUTH.len()).collect();
    let mut dice = Dice(4);
    let errors: Vec<f64> = measured().iter().map(|_| dice.normal()).collect();
    let (n, spots) = network(&TRUTH, &plain, &mut |i| errors[i], 0.2);
    let first = adjusted(&n);
    for (turn, dx, dy, step) in
        [(0.0, 0.0, 0.0, 3), (1.0, 0.0, 0.0, 1), (0.0, 600_000.0, -2_000_000.0, 1), (-2.5, 30.0, 4e5, 7)]
    {
        let (sin, cos) = libm::sincos(turn);
        let moved = TRUTH.map(|(x, y)| (cos * x - sin * y + dx, sin * x + cos * y + dy));
        let order: Vec<usize> = plain.iter().map(|i| i * step % TRUTH.len()).collect();
        let (n, other) = network(&moved, &order, &mut |i| errors[i], 0.2);
        let second = adjusted(&n);
        assert!((first.weighted_sum() - second.weighted_sum()).abs() < 1e-5, "{turn} {dx}");
        for i in plain.iter().skip(1) {
            let (a, b) = (first.ellipse(spots[*i]), second.ellipse(other[*i]));
            assert!(
                (a.a - b.a).metres().abs() < 1e-7 && (a.b - b.b).metres().abs() < 1e-7,
                "{i}: {a:?} {b:?}"
            );
            let swing = (a.azimuth - b.azimuth - Angle::from_radians(turn)).radians() / std::f64::consts::PI;
            assert!((swing - swing.round()).abs() < 1e-4, "{i}: {swing}");
            for j in plain.iter().take(*i) {
                let length = |done: &Adjusted, spots: &[Spot]| {
                    let ((ax, ay), (bx, by)) = (place(done, spots[*i]), place(done, spots[*j]));
                    libm::hypot(bx - ax, by - ay)
                };
                assert!(
                    (length(&first, &spots) - length(&second, &other)).abs() < 2e-8,
                    "{i} {j} {turn} {dx}"
                );
            }
        }
    }
}

#[test]
fn repeated_surveys_scatter_as_told() {
    const SURVEYS: u32 = 400;
    let order: Vec<usize> = (0..TRUTH.len()).collect();
    let mut dice = Dice(2);
    let factor = statistics::ellipse_factor(0.95).expect("in range");
    let (mut held, mut passed, mut sum, mut degrees) = ([0_u32; TRUTH.len()], 0, 0.0, 0);
    for _ in 0..SURVEYS {
        let (n, spots) = network(&TRUTH, &order, &mut |_| dice.normal(), 0.1);
        let done = adjusted(&n);
        sum += done.weighted_sum();
        degrees = done.degrees_of_freedom();
        passed += u32::from(done.chi_square(0.95).expect("redundancy").passed);
        for i in 1..TRUTH.len() {
            let (x, y) = place(&done, spots[i]);
            let (dx, dy) = (x - TRUTH[i].0, y - TRUTH[i].1);
            let ellipse = done.ellipse(spots[i]);
            let (sin, cos) = libm::sincos(ellipse.azimuth.radians());
            let (major, minor) = (dx * sin + dy * cos, dx * cos - dy * sin);
            // The second corner moves along the held direction only: its ellipse is a line.
            let across = if i == 1 { 0.0 } else { minor / ellipse.b.metres() };
            let along = major / ellipse.a.metres();
            // On a line the bound is that of one normal variable.
            let bound = if i == 1 { statistics::baarda_critical(0.05).expect("in range") } else { factor };
            held[i] += u32::from(along * along + across * across <= bound * bound);
        }
    }
    // 37 measurements for ten points less one direction: 24 + 3 + 10 - 19.
    assert_eq!(degrees, 18);
    let surveys = f64::from(SURVEYS);
    // Four standard deviations of a share of 95 % among so many; of the mean of so many sums.
    let slack = 4.0 * libm::sqrt(0.95 * 0.05 / surveys);
    for (i, count) in held.iter().enumerate().skip(1) {
        let share = f64::from(*count) / surveys;
        assert!((share - 0.95).abs() <= slack, "point {i}: {share}");
    }
    let share = f64::from(passed) / surveys;
    assert!((share - 0.95).abs() <= slack, "sums of squares: {share}");
    let mean = sum / surveys;
    let slack = 4.0 * libm::sqrt(2.0 * f64::from(degrees) / surveys);
    assert!((mean - f64::from(degrees)).abs() <= slack, "mean {mean}");
}
