//! Measures of what is not drawn.

use groundrule_site::Measured;
use groundrule_survey::Shape;
use groundrule_units::Dimension;

use crate::sheet::{Built, Sheet};

fn check(measure: impl Fn(&Built) -> Measured, dimension: Dimension, what: &[&str]) {
    let mut sheet = Sheet::new();
    sheet.lot("lot", &[[0.0, 0.0], [60.0, 0.0], [60.0, 100.0], [0.0, 100.0]], &[], 0.0);
    sheet.add("septic", Shape::Absent);
    sheet.add("well", Shape::Absent);
    sheet.outline("shed", &[[1.0, 1.0], [3.0, 1.0], [3.0, 3.0]], 0.1);
    sheet.line("fence", &[[1.0, 1.0], [3.0, 1.0]], 0.0, 0.1);
    let measured = measure(&sheet.build());
    let needs: Vec<&str> = measured.needs.iter().map(|need| need.what.as_str()).collect();
    assert_eq!(needs, what);
    assert_eq!(measured.value().dimension(), dimension);
    assert!(measured.terms().is_empty() && measured.marks.is_empty());
    assert!(measured.needs.iter().all(|need| !need.how.is_empty()), "each says what to do");
}

#[test]
fn each_measure_says_what_it_lacks() {
    use Dimension::{Area, Length};
    let (septic, well) = ("the shape of septic", "the shape of well");
    check(|b| b.distance("septic", "shed"), Length, &[septic]);
    check(|b| b.distance("well", "septic"), Length, &[septic, well]);
    check(|b| b.distance("well", "well"), Length, &[well]);
    check(|b| b.clearance("shed", "well"), Length, &[well]);
    check(|b| b.yard("well", "lot.a-b"), Length, &[well]);
    check(|b| b.site.area(b.id("well")), Area, &[well]);
    check(|b| b.site.covered(&[b.id("well"), b.id("shed"), b.id("septic")], None), Area, &[septic, well]);
    check(|b| b.site.covered(&[b.id("shed")], Some(b.id("well"))), Area, &[well]);
    check(|b| b.site.overlap(b.id("shed"), b.id("well")), Area, &[well]);
    check(|b| b.site.length(b.id("well")), Length, &[well]);
    check(|b| b.site.length_inside(b.id("fence"), b.id("well")), Length, &[well]);
    check(|b| b.site.drawn_width(b.id("well")), Length, &[well]);
    check(|b| b.site.drawn_width(b.id("fence")), Length, &["the width of fence"]);
}

#[test]
fn a_feature_of_another_site_is_lacking_too() {
    let nowhere = groundrule_site::FeatureId(99);
    check(|b| b.site.distance(nowhere, b.id("shed")), Dimension::Length, &["a feature numbered 99"]);
}
