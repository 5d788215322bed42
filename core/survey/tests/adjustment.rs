//! The least-squares engine on small networks whose answers are known in closed form.

use groundrule_survey::adjust::{
    AdjustError, Adjusted, Network, Observation, ObservationId, Observed, Part, Settings, Spot,
};
use groundrule_survey::{ErrorTerm, ErrorTerms, Point, Position, SourceId};
use groundrule_units::{Length, Quantity};

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
    (c.xx.square_metres().sqrt(), c.yy.square_metres().sqrt())
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
        let first = observe(&mut n, Observed::Distance(a, p), x.hypot(y), 0.02);
        observe(&mut n, Observed::Distance(b, p), (10.0 - x).hypot(y), 0.02);
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
        let c = [c.xx, c.xy, c.yx, c.yy].map(|area| area.square_metres());
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
