//! Arithmetic on amounts keeps what they have in common.

use groundrule_site::{AmountError, Mark, Measured, Need, Terms};
use groundrule_survey::{Position, SourceId};
use groundrule_units::{Area, Dimension, Length, Quantity, Ratio};

use crate::sheet::close;

fn length(value: f64, terms: &[(u32, f64)]) -> Measured {
    let terms: Terms = terms.iter().map(|(source, term)| (SourceId(*source), *term)).collect();
    Measured::new(Length::from_metres(value).into(), terms)
}

fn lacking(what: &str) -> Measured {
    let need = Need { what: what.to_owned(), how: "measure it".to_owned() };
    Measured::lacking(Dimension::Length, vec![need])
}

fn check(shown: &Measured, value: f64, terms: &[(u32, f64)]) {
    close("value", shown.value().si(), value, 1e-12);
    let of: Vec<(u32, f64)> = shown.terms().iter().map(|(source, term)| (source.0, *term)).collect();
    assert_eq!(of.len(), terms.len(), "{of:?} for {terms:?}");
    for ((source, shown), (expected_source, expected)) in of.iter().zip(terms) {
        assert_eq!(source, expected_source);
        close("term", *shown, *expected, 1e-12);
    }
}

#[test]
fn sums_and_differences() {
    let (a, b) = (length(10.0, &[(1, 0.3), (4, 0.1)]), length(4.0, &[(1, 0.3), (2, 0.2)]));
    check(&a.add(&b).unwrap(), 14.0, &[(1, 0.6), (2, 0.2), (4, 0.1)]);
    check(&a.subtract(&b).unwrap(), 6.0, &[(2, -0.2), (4, 0.1)]);
    check(&a.subtract(&a).unwrap(), 0.0, &[]);
    check(&a.scale(Ratio::from_fraction(-2.0)), -20.0, &[(1, -0.6), (4, -0.2)]);
    check(&Measured::sum([&a, &b, &a]).unwrap().unwrap(), 24.0, &[(1, 0.9), (2, 0.2), (4, 0.2)]);
    assert_eq!(Measured::sum([]).unwrap(), None);
    close("covariance", a.covariance(&b), 0.09, 1e-15);
    close("variance", a.covariance(&a), a.spread().si() * a.spread().si(), 1e-15);
}

#[test]
fn ratios() {
    let (a, b) = (length(3.0, &[(1, 0.3)]), length(12.0, &[(2, 0.6)]));
    let ratio = a.ratio(&b).unwrap();
    check(&ratio, 0.25, &[(1, 0.025), (2, -0.0125)]);
    assert_eq!(ratio.value().dimension(), Dimension::Ratio);
    // What is common to both leaves the share as it is.
    check(&length(3.0, &[(1, 0.03)]).ratio(&length(12.0, &[(1, 0.12)])).unwrap(), 0.25, &[]);
    assert_eq!(a.ratio(&length(0.0, &[])), Err(AmountError::ZeroDivisor));
    assert_eq!(a.ratio(&lacking("area of lot")).unwrap().needs.len(), 1);
}

/// A slope of 0.5 over 10 with 0.02 on each height and 0.04 on the length: closed form.
#[test]
fn a_slope() {
    let rise = length(0.5, &[(1, 0.02), (2, -0.02)]);
    let slope = rise.ratio(&length(10.0, &[(3, 0.04)])).unwrap();
    close("value", slope.value().si(), 0.05, 1e-12);
    close("spread", slope.spread().si(), 0.002_835_489_376, 1e-12);
}

#[test]
fn least_and_greatest_are_the_deciding_one() {
    let spot = |x| Mark::Spot(Position { x: Length::from_metres(x), y: Length::ZERO });
    let a = length(3.0, &[(1, 0.1)]).marked(vec![spot(1.0)]);
    let b = length(2.0, &[(2, 0.2)]).marked(vec![spot(2.0)]);
    let c = length(2.0, &[(3, 0.3)]).marked(vec![spot(3.0)]);
    assert_eq!(Measured::least([&a, &b, &c]).unwrap(), Some(b.clone()));
    assert_eq!(Measured::greatest([&b, &a, &c]).unwrap(), Some(a.clone()));
    assert_eq!(Measured::greatest([]).unwrap(), None);
    let missing = Measured::least([&a, &lacking("gate-2"), &b, &lacking("gate-1")]).unwrap().unwrap();
    let what: Vec<_> = missing.needs.iter().map(|need| need.what.as_str()).collect();
    assert_eq!(what, ["gate-1", "gate-2"], "where one is lacking, the least is not known");
}

#[test]
fn needs_and_marks_carry_through() {
    let (a, b) = (lacking("gate-2"), lacking("gate-1"));
    let sum = a.add(&b).unwrap().add(&a).unwrap();
    assert_eq!(sum.needs.len(), 2);
    assert_eq!(a.scale(Ratio::from_fraction(2.0)).needs, a.needs);
    assert_eq!(Measured::sum([&a, &b, &a]).unwrap().unwrap().needs.len(), 2);
}

#[test]
fn amounts_of_different_things_do_not_mix() {
    let (a, b) = (length(3.0, &[]), Measured::exact(Area::from_square_metres(2.0)));
    let mismatch = AmountError::Mismatch { first: Dimension::Length, other: Dimension::Area };
    for result in [a.add(&b), a.subtract(&b), a.ratio(&b)] {
        assert_eq!(result, Err(mismatch));
    }
    for result in [Measured::sum([&a, &b]), Measured::least([&a, &b]), Measured::greatest([&a, &b])] {
        assert_eq!(result, Err(mismatch));
    }
    assert_eq!(mismatch.to_string(), "a length cannot be combined with an area");
    assert_eq!(a.value(), Quantity::new(Dimension::Length, 3.0));
}
