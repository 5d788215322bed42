//! The least-squares engine on small networks whose answers are known in closed form.

#![allow(clippy::expect_used, clippy::panic, reason = "a network that is not adjusted ends its test")]

use groundrule_survey::adjust::{
    AdjustError, Adjusted, Network, Observation, ObservationId, Observed, Part, Settings, Spot,
};
use groundrule_survey::{ErrorTerm, ErrorTerms, Point, Position, SourceId};
use groundrule_units::{Angle, Area, Length, Quantity};

fn at(x: f64, y: f64) -> Position {
    Position { x: Length::from_metres(x), y: Length::from_metres(y) }
}

fn observe(network: &mut Network, what: Observed, value: f64, sigma: f64) -> ObservationId {
    let dimension = what.dimension();
    network.observe(Observation {
        what,
        value: Quantity::new(dimension, value),
        sigma: Quantity::new(dimension, sigma),
    })
}

fn adjusted(network: &Network) -> Adjusted {
    network.adjust(&Settings::default()).expect("the network is sound")
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "found {found}, expected {expected}");
}

#[track_caller]
fn stands(adjusted: &Adjusted, spot: Spot, x: f64, y: f64, tolerance: f64) {
    near(adjusted.position(spot).x.metres(), x, tolerance);
    near(adjusted.position(spot).y.metres(), y, tolerance);
}

/// The standard uncertainties of both coordinates.
fn spread(adjusted: &Adjusted, spot: Spot) -> (f64, f64) {
    let c = adjusted.covariance(spot, spot);
    (libm::sqrt(c.xx.square_metres()), libm::sqrt(c.yy.square_metres()))
}

#[test]
fn two_ties_cross() {
    for (x, y, sx, sy) in [
        (5.0, 5.0, 0.02, 0.02),
        (5.0, 0.2, 0.014_153_44, 0.353_836_12),
        (5.0, 200.0, 0.565_862_17, 0.014_146_55),
    ] {
        let mut n = Network::new();
        let (a, b) = (n.fixed(at(0.0, 0.0)), n.fixed(at(10.0, 0.0)));
        let p = n.point(at(x + 0.3, y + 0.05));
        let first = observe(&mut n, Observed::Distance(a, p), libm::hypot(x, y), 0.02);
        observe(&mut n, Observed::Distance(b, p), libm::hypot(10.0 - x, y), 0.02);
        let done = adjusted(&n);
        stands(&done, p, x, y, 1e-9);
        near(spread(&done, p).0, sx, 1e-8);
        near(spread(&done, p).1, sy, 1e-8);
        assert_eq!(done.degrees_of_freedom(), 0);
        near(done.redundancy(first), 0.0, 0.0);
        assert_eq!((done.standardised(first), done.detectable(first), done.s0()), (None, None, None));
    }
}

#[test]
fn an_exact_right_angle() {
    let mut n = Network::new();
    let a = n.fixed(at(0.0, 0.0));
    let (b, c) = (n.point(at(40.0, 0.5)), n.point(at(41.0, 29.0)));
    observe(&mut n, Observed::Up(b), 0.0, 0.0);
    observe(&mut n, Observed::Angle { at: b, from: a, to: c }, std::f64::consts::FRAC_PI_2, 0.0);
    let ids = [(a, b, 40.02), (b, c, 30.01), (a, c, 50.0)]
        .map(|(from, to, length)| observe(&mut n, Observed::Distance(from, to), length, 0.02));
    let done = adjusted(&n);
    stands(&done, b, 40.011_199_408_285, 0.0, 1e-9);
    stands(&done, c, 40.011_199_408_285, 30.003_400_655_738, 1e-9);
    for (id, v) in ids.iter().zip([-0.008_800_591_715, -0.006_599_344_262, 0.011_000_079_965]) {
        near(done.residual(*id).si(), v, 1e-9);
    }
    near(done.weighted_sum(), 0.605_008_796_162, 1e-9);
    assert_eq!(done.degrees_of_freedom(), 1);
    let cov = done.covariance(c, c);
    near(cov.xx.square_metres(), 2.719_846e-4, 1e-9);
    near(cov.xy.square_metres(), -9.599_55e-5, 1e-9);
    near(cov.yy.square_metres(), 3.280_154e-4, 1e-9);
}

/// The covariance of two points from their terms alone.
fn from_terms(done: &Adjusted, a: Spot, b: Spot) -> [f64; 4] {
    let (a, b) = (done.terms(a), done.terms(b));
    let mut sums = [0.0; 4];
    for one in &a {
        for other in b.iter().filter(|other| other.observation == one.observation) {
            let ((x, y), (u, v)) = ((one.x.metres(), one.y.metres()), (other.x.metres(), other.y.metres()));
            for (sum, part) in sums.iter_mut().zip([x * u, x * v, y * u, y * v]) {
                *sum += part;
            }
        }
    }
    sums
}

/// A point placed with two sources of its own and one that others share.
fn placed(x: f64, y: f64, first: u32, sigma: f64, shared: f64) -> Point {
    let term = |source, x, y| ErrorTerm {
        source: SourceId(source),
        x: Length::from_metres(x),
        y: Length::from_metres(y),
    };
    let terms = [term(0, shared, shared / 2.0), term(first, sigma, 0.0), term(first + 1, 0.0, sigma)];
    Point { at: at(x, y), error: ErrorTerms::Sum(terms.into()) }
}

#[test]
fn placed_points_move_with_their_sources() {
    let mut n = Network::new();
    let a = n.placed(&placed(0.0, 0.0, 1, 0.5, 2.0));
    let b = n.placed(&placed(10.3, 0.0, 3, 0.5, 2.0));
    let tape = observe(&mut n, Observed::Distance(a, b), 10.0, 0.01);
    let done = adjusted(&n);
    // The shared source drops out of the distance; the own ones take half of the difference each.
    let weight = 0.5 / (0.5 + 0.0001);
    near(done.position(a).x.metres(), 0.15 * weight, 1e-6);
    near(done.position(b).x.metres(), 10.3 - 0.15 * weight, 1e-6);
    let shared = done.source(SourceId(0)).expect("known");
    near(shared.shift, 0.0, 1e-9);
    assert_eq!(shared.terms.len(), 1, "still its own: {:?}", shared.terms);
    assert_eq!(n.source_of(shared.terms[0].0), Some(SourceId(0)));
    assert_eq!(n.source_of(tape), None);
    near(shared.terms[0].1, 1.0, 1e-12);
    let own = done.source(SourceId(1)).expect("known");
    near(own.shift, 0.3 * weight, 1e-6);
    let squares: f64 = own.terms.iter().map(|(_, t)| t * t).sum();
    assert!(squares < 0.51, "better known than before: {squares}");
    for (p, q) in [(a, a), (a, b), (b, b)] {
        let c = done.covariance(p, q);
        let c = [c.xx, c.xy, c.yx, c.yy].map(Area::square_metres);
        for (sum, entry) in from_terms(&done, p, q).iter().zip(c) {
            near(*sum, entry, 1e-12);
        }
    }
    assert!(done.source(SourceId(77)).is_none());
}

#[test]
fn what_nothing_holds_is_named() {
    let mut n = Network::new();
    let (a, b) = (n.fixed(at(0.0, 0.0)), n.fixed(at(10.0, 0.0)));
    let (p, q, r) = (n.point(at(3.0, 4.0)), n.point(at(20.0, 4.0)), n.point(at(5.0, 5.0)));
    let bench = n.height(Length::ZERO);
    observe(&mut n, Observed::Distance(a, p), 5.0, 0.01);
    observe(&mut n, Observed::Distance(b, p), 8.0, 0.01);
    observe(&mut n, Observed::Distance(b, q), 10.0, 0.01);
    let freedoms = n.freedoms();
    let moving: Vec<&[Part]> = freedoms.iter().map(|f| &f.parts[..]).collect();
    let (q, r) = (Part::Spot(q), Part::Spot(r));
    assert_eq!(moving, [&[q][..], &[r], &[r], &[Part::Bench(bench)]]);
    let errors = n.adjust(&Settings::default()).expect_err("three parts hang loose");
    assert!(
        errors.iter().all(|e| matches!(e, AdjustError::NotDetermined { .. })) && errors.len() == 3,
        "{errors:?}"
    );
}

#[test]
fn exact_conditions_that_cannot_hold_together_are_named() {
    let mut n = Network::new();
    let (a, b) = (n.fixed(at(0.0, 0.0)), n.fixed(at(10.0, 0.0)));
    let p = n.point(at(3.0, 4.0));
    let one = observe(&mut n, Observed::Distance(a, p), 5.0, 0.0);
    let tied = observe(&mut n, Observed::Distance(b, p), 8.0, 0.0);
    observe(&mut n, Observed::Distance(a, p), 5.01, 0.01);
    assert!(n.adjust(&Settings::default()).is_ok());
    let two = observe(&mut n, Observed::Distance(a, p), 6.0, 0.0);
    let errors = n.adjust(&Settings::default()).expect_err("5 and 6");
    assert_eq!(errors, [AdjustError::Contradictory { observations: vec![one, two] }], "not {tied:?}");
}

#[test]
fn a_chain_between_two_walls() {
    for (sigmas, corrections) in
        [([0.02; 4], [0.0125; 4]), ([0.01, 0.02, 0.04, 0.02], [0.002, 0.008, 0.032, 0.008])]
    {
        let mut n = Network::new();
        let (start, end) = (n.fixed(at(0.0, 0.0)), n.fixed(at(80.05, 0.0)));
        let mut spots = vec![start];
        for x in [12.0, 30.0, 60.0] {
            let spot = n.point(at(x, 0.1));
            observe(&mut n, Observed::Offset { line: (start, end), point: spot }, 0.0, 0.01);
            spots.push(spot);
        }
        spots.push(end);
        let pieces: Vec<ObservationId> = spots
            .windows(2)
            .zip([12.50, 19.25, 26.45, 21.80])
            .zip(sigmas)
            .map(|((ends, length), sigma)| {
                let what = Observed::Piece { line: (start, end), a: ends[0], b: ends[1] };
                observe(&mut n, what, length, sigma)
            })
            .collect();
        let done = adjusted(&n);
        for (id, correction) in pieces.iter().zip(corrections) {
            near(done.residual(*id).si(), correction, 1e-9);
        }
        if sigmas[0] > 0.01 {
            near(done.weighted_sum(), 1.5625, 1e-9);
            for (spot, (x, sx)) in
                spots[1..4].iter().zip([(12.5125, 0.017_320_508), (31.775, 0.02), (58.2375, 0.017_320_508)])
            {
                stands(&done, *spot, x, 0.0, 1e-9);
                near(spread(&done, *spot).0, sx, 1e-9);
                near(spread(&done, *spot).1, 0.01, 1e-9);
            }
        }
    }
}

#[test]
fn running_readings_share_their_origin() {
    let mut n = Network::new();
    let (start, end) = (n.fixed(at(0.0, 0.0)), n.fixed(at(80.0, 0.0)));
    let (origin, mut spots) = (n.origin(Length::ZERO), Vec::new());
    let station = |point| Observed::Station { line: (start, end), zero: start, point, origin: Some(origin) };
    // The tape lay with its 2.5 at the start of the line.
    observe(&mut n, station(start), 2.5, 0.02);
    for reading in [15.0, 34.25, 60.7] {
        let spot = n.point(at(reading, 0.0));
        observe(&mut n, Observed::Offset { line: (start, end), point: spot }, 0.0, 0.0);
        observe(&mut n, station(spot), reading, 0.02);
        spots.push(spot);
    }
    let done = adjusted(&n);
    near(done.origin(origin).metres(), -2.5, 1e-9);
    for (spot, x) in spots.iter().zip([12.5, 31.75, 58.2]) {
        stands(&done, *spot, x, 0.0, 1e-9);
    }
    let x = |a: usize, b: usize| done.covariance(spots[a], spots[b]).xx.square_metres();
    let gap = |a, b| x(a, a) + x(b, b) - 2.0 * x(a, b);
    near(libm::sqrt(gap(0, 1)), 0.028_284_271, 1e-9);
    let neighbours = x(1, 2) - x(1, 1) - x(0, 2) + x(0, 1);
    near(neighbours / gap(0, 1), -0.5, 1e-9);
}

#[test]
fn a_rough_place_and_a_tape() {
    let mut n = Network::new();
    let (wall, p) = (n.fixed(at(0.0, 0.0)), n.point(at(9.0, 0.0)));
    observe(&mut n, Observed::Up(p), 0.0, 0.0);
    observe(&mut n, Observed::Right(p), 10.4, 0.5);
    observe(&mut n, Observed::Distance(wall, p), 10.02, 0.020_833_3);
    let done = adjusted(&n);
    stands(&done, p, 10.020_658_576_752, 0.0, 1e-9);
    near(spread(&done, p).0, 0.020_815_239_109, 1e-9);
}

#[test]
fn conditions_that_follow_from_others_do_no_harm() {
    // Three right angles make the fourth, and both pairs of equal sides follow as well.
    let mut n = Network::new();
    let a = n.fixed(at(0.0, 0.0));
    let (b, c, d) = (n.point(at(20.3, 0.4)), n.point(at(19.6, 9.5)), n.point(at(0.5, 10.4)));
    observe(&mut n, Observed::Azimuth(a, b), std::f64::consts::FRAC_PI_2, 0.0);
    for (at, from, to) in [(b, a, c), (c, b, d), (d, c, a), (a, d, b)] {
        observe(&mut n, Observed::Angle { at, from, to }, std::f64::consts::FRAC_PI_2, 0.0);
    }
    observe(&mut n, Observed::Equal((a, b), (d, c)), 0.0, 0.0);
    observe(&mut n, Observed::Equal((a, d), (b, c)), 0.0, 0.0);
    observe(&mut n, Observed::Parallel((a, b), (c, d)), 0.0, 0.0);
    for (from, to, length) in [(a, b, 20.02), (c, d, 19.98), (b, c, 10.01), (d, a, 9.99)] {
        observe(&mut n, Observed::Distance(from, to), length, 0.02);
    }
    assert_eq!(n.freedoms(), []);
    let done = adjusted(&n);
    stands(&done, b, 20.0, 0.0, 1e-8);
    stands(&done, c, 20.0, 10.0, 1e-8);
    stands(&done, d, 0.0, 10.0, 1e-8);
    assert_eq!(done.degrees_of_freedom(), 2);
    near(spread(&done, c).0, 0.02 / libm::sqrt(2.0), 1e-8);
}

/// Whatever is asked of a network, the answer is numbers or an error.
#[track_caller]
fn survives(n: &Network, spots: &[Spot]) -> Result<Adjusted, Vec<AdjustError>> {
    let outcome = n.adjust(&Settings::default());
    if let Ok(done) = &outcome {
        assert!(done.weighted_sum().is_finite());
        for spot in spots {
            assert!(done.position(*spot).x.is_finite() && done.position(*spot).y.is_finite());
            assert!(done.ellipse(*spot).a.is_finite() && done.ellipse(*spot).b.is_finite());
            assert!(done.terms(*spot).iter().all(|t| t.x.is_finite() && t.y.is_finite()));
        }
    }
    outcome
}

#[test]
fn odd_networks_end_in_an_answer() {
    assert!(survives(&Network::new(), &[]).is_ok());

    // Typing errors among good ties; one that outweighs all others leads out of sight and is named.
    for wrong in [1e4, 1e8, 1e12, 0.0, -5.0] {
        let mut n = Network::new();
        let held = [(0.0, 0.0), (60.0, 0.0), (60.0, 45.0), (0.0, 45.0)].map(|(x, y)| n.fixed(at(x, y)));
        let p = n.point(at(20.0, 20.0));
        let ids: Vec<ObservationId> = held
            .iter()
            .zip([28.106, 41.385, wrong, 35.714])
            .map(|(spot, length)| observe(&mut n, Observed::Distance(*spot, p), length, 0.02))
            .collect();
        if let Err(errors) = survives(&n, &[p]) {
            assert!(wrong > 1e3, "{wrong}: {errors:?}");
            let [AdjustError::NoConvergence { worst, .. }] = errors[..] else {
                panic!("{wrong}: {errors:?}")
            };
            assert_eq!(worst, Some(ids[2]));
        }
    }

    // Points that start in one place come apart.
    let mut n = Network::new();
    let (a, b) = (n.fixed(at(0.0, 0.0)), n.fixed(at(10.0, 0.0)));
    let p = n.point(at(0.0, 0.0));
    observe(&mut n, Observed::Distance(a, p), 5.0, 0.01);
    observe(&mut n, Observed::Distance(b, p), 8.0, 0.01);
    let done = survives(&n, &[p]).expect("5 and 8 reach over 10");
    near(done.weighted_sum(), 0.0, 1e-12);

    // Angles to a point that stands on another.
    let mut n = Network::new();
    let (a, b) = (n.fixed(at(0.0, 0.0)), n.fixed(at(0.0, 0.0)));
    let p = n.point(at(0.0, 0.0));
    observe(&mut n, Observed::Angle { at: a, from: b, to: p }, 1.0, 0.01);
    observe(&mut n, Observed::Offset { line: (a, b), point: p }, 1.0, 0.01);
    observe(&mut n, Observed::Station { line: (a, b), zero: a, point: p, origin: None }, 1.0, 0.0);
    let _ = survives(&n, &[p]);

    // A triangle with a side longer than both others together, exactly.
    let mut n = Network::new();
    let a = n.fixed(at(0.0, 0.0));
    let (b, c) = (n.point(at(1.0, 0.1)), n.point(at(0.5, 1.0)));
    observe(&mut n, Observed::Azimuth(a, b), 1.0, 0.0);
    let sides = [(a, b, 1.0), (b, c, 1.0), (a, c, 5.0)]
        .map(|(from, to, length)| observe(&mut n, Observed::Distance(from, to), length, 0.0));
    let errors = survives(&n, &[b, c]).expect_err("no such triangle");
    let [AdjustError::Contradictory { observations }] = &errors[..] else { panic!("{errors:?}") };
    assert!(sides.iter().any(|side| observations.contains(side)), "{observations:?}");

    // Known points too far apart for what was fixed between them.
    let mut n = Network::new();
    let (a, b) = (n.fixed(at(0.0, 0.0)), n.fixed(at(3.0, 4.0)));
    let good = observe(&mut n, Observed::Distance(a, b), 5.0, 0.0);
    let bad = observe(&mut n, Observed::Distance(a, b), 5.1, 0.0);
    let errors = survives(&n, &[a, b]).expect_err("5 and 5.1");
    assert_eq!(errors, [AdjustError::Contradictory { observations: vec![bad] }], "{good:?} holds");
}

#[test]
fn numbers_that_are_none_are_named() {
    let mut n = Network::new();
    let p = n.point(at(f64::NAN, 0.0));
    let good = n.fixed(at(0.0, 0.0));
    let ids = [(f64::NAN, 0.1), (1.0, f64::INFINITY), (1.0, -0.1)]
        .map(|(value, sigma)| observe(&mut n, Observed::Distance(good, p), value, sigma));
    let angle = n.observe(Observation {
        what: Observed::Distance(good, p),
        value: Angle::from_radians(1.0).into(),
        sigma: Angle::from_radians(1.0).into(),
    });
    let errors = n.adjust(&Settings::default()).expect_err("none of it is a number");
    let expected: Vec<AdjustError> = std::iter::once(AdjustError::StartNotFinite { part: Part::Spot(p) })
        .chain(ids.into_iter().chain([angle]).map(|observation| AdjustError::NotFinite { observation }))
        .collect();
    assert_eq!(errors, expected);
    assert_eq!(n.freedoms(), []);
}

#[test]
fn free_parts_stand_apart() {
    // Two placed points in no observation keep their error to the last digit; a third is tied to one of them.
    let mut n = Network::new();
    let alone = n.placed(&placed(3.0, 4.0, 11, 0.25, 0.0));
    let tied = n.placed(&placed(50.0, 4.0, 21, 0.25, 0.0));
    let wall = n.fixed(at(40.0, 4.0));
    observe(&mut n, Observed::Distance(wall, tied), 10.2, 0.01);
    let done = adjusted(&n);
    stands(&done, alone, 3.0, 4.0, 0.0);
    assert_eq!(spread(&done, alone), (0.25, 0.25));
    assert!(spread(&done, tied).0 < 0.0101);
    let across = done.covariance(alone, tied);
    assert_eq!([across.xx, across.xy, across.yx, across.yy], [Area::ZERO; 4]);
    assert_eq!(done.degrees_of_freedom(), 1);
}

#[test]
fn directions_share_their_orientation() {
    let mut n = Network::new();
    let held = [(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)].map(|(x, y)| n.fixed(at(x, y)));
    let p = n.point(at(38.0, 31.0));
    let orientation = n.orientation(Angle::from_degrees(50.0));
    for (spot, (x, y)) in held.iter().zip([(0.0, 0.0), (100.0, 0.0), (100.0, 80.0), (0.0, 80.0)]) {
        // The circle's zero pointed 57 degrees east of up; values run past a whole turn.
        let direction = libm::atan2(x - 40.0, y - 30.0) - 57.0_f64.to_radians() + 4.0 * std::f64::consts::PI;
        observe(&mut n, Observed::Direction { at: p, to: *spot, orientation }, direction, 1e-4);
    }
    let done = adjusted(&n);
    stands(&done, p, 40.0, 30.0, 1e-8);
    near(done.orientation(orientation).degrees(), 57.0, 1e-9);
    assert_eq!(done.degrees_of_freedom(), 1);
}

#[test]
fn heights_are_levelled() {
    let mut n = Network::new();
    let datum = n.fixed_height(Length::from_metres(100.0));
    let (a, b) = (n.height(Length::ZERO), n.height(Length::ZERO));
    let first = observe(&mut n, Observed::Rise(datum, a), 1.0, 0.01);
    observe(&mut n, Observed::Rise(a, b), 0.5, 0.01);
    observe(&mut n, Observed::Rise(b, datum), -1.53, 0.01);
    let done = adjusted(&n);
    near(done.height(a).metres(), 101.01, 1e-9);
    near(done.height(b).metres(), 101.52, 1e-9);
    near(done.redundancy(first), 1.0 / 3.0, 1e-12);
    let squares: f64 = done.height_terms(a).iter().map(|(_, t)| t.metres() * t.metres()).sum();
    near(squares, 1e-4 * 2.0 / 3.0, 1e-12);
}

#[test]
fn great_weights_break_nothing() {
    // The right angle of above as an observation, ever surer; from an independent dense solver.
    for (sigma, x, y) in [
        (1e-2, 39.992_763_055_743, 30.009_897_543_776),
        (1e-4, 40.011_065_700_115, 30.003_447_873_734),
        (1e-6, 40.011_199_394_818, 30.003_400_660_494),
        (1e-8, 40.011_199_408_283, 30.003_400_655_738),
    ] {
        let mut n = Network::new();
        let a = n.fixed(at(0.0, 0.0));
        let (b, c) = (n.point(at(40.0, 0.5)), n.point(at(41.0, 29.0)));
        observe(&mut n, Observed::Up(b), 0.0, 0.0);
        observe(&mut n, Observed::Angle { at: b, from: a, to: c }, std::f64::consts::FRAC_PI_2, sigma);
        for (from, to, length) in [(a, b, 40.02), (b, c, 30.01), (a, c, 50.0)] {
            observe(&mut n, Observed::Distance(from, to), length, 0.02);
        }
        stands(&adjusted(&n), c, x, y, 1e-8);
    }
    // A house taped to the half millimetre and placed to half a mile: weak, but placed.
    let mut n = Network::new();
    let (a, b, c) = (n.point(at(1.0, 0.0)), n.point(at(9.0, 1.0)), n.point(at(8.0, 6.0)));
    for (from, to, length) in [(a, b, 10.0), (b, c, 6.0), (a, c, 11.0)] {
        observe(&mut n, Observed::Distance(from, to), length, 0.0005);
    }
    observe(&mut n, Observed::Right(a), 0.0, 800.0);
    observe(&mut n, Observed::Up(a), 0.0, 800.0);
    observe(&mut n, Observed::Up(b), 0.0, 800.0);
    assert_eq!(n.freedoms(), []);
    let done = adjusted(&n);
    // Weights that differ by 12 digits leave 3 or 4 of the 16.
    near(spread(&done, a).0, 800.0, 1.0);
}

#[test]
fn large_nets_without_a_datum_are_free() {
    // Levels on a grid: all may rise together.
    let mut n = Network::new();
    let grid: Vec<Vec<_>> = (0..60).map(|_| (0..60).map(|_| n.height(Length::ZERO)).collect()).collect();
    for (i, row) in grid.iter().enumerate() {
        for (j, bench) in row.iter().enumerate() {
            for other in [row.get(j + 1), grid.get(i + 1).and_then(|row| row.get(j))].into_iter().flatten() {
                observe(&mut n, Observed::Rise(*bench, *other), 0.0, 0.003);
            }
        }
    }
    let freedoms = n.freedoms();
    assert_eq!(freedoms.iter().map(|f| f.parts.len()).collect::<Vec<_>>(), [3600]);

    // A braced strip of lots, far from the origin: two shifts and a turn.
    let mut n = Network::new();
    let strip: Vec<[Spot; 2]> =
        (0..300).map(|i| [0.0, 30.0].map(|y| n.point(at(2e6 + 20.0 * f64::from(i), 6e5 + y)))).collect();
    for (i, [low, high]) in strip.iter().enumerate() {
        observe(&mut n, Observed::Distance(*low, *high), 30.0, 0.01);
        if let Some([next_low, next_high]) = strip.get(i + 1) {
            for (a, b, length) in
                [(low, next_low, 20.0), (high, next_high, 20.0), (low, next_high, libm::hypot(20.0, 30.0))]
            {
                observe(&mut n, Observed::Distance(*a, *b), length, 0.01);
            }
        }
    }
    assert_eq!(n.freedoms().len(), 3);
    // Held at one end it is a long arm, but it stands.
    observe(&mut n, Observed::Right(strip[0][0]), 2e6, 0.0);
    observe(&mut n, Observed::Up(strip[0][0]), 6e5, 0.0);
    observe(&mut n, Observed::Azimuth(strip[0][0], strip[0][1]), 0.0, 0.0);
    assert_eq!(n.freedoms(), []);
    let done = adjusted(&n);
    assert!(done.ellipse(strip[299][0]).a.metres() > 1.0);
}
