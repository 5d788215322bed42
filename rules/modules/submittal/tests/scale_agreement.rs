//! The scale of the print over the stated one.

use groundrule_kit::{Length, Sketch};
use groundrule_submittal::ScaleAgreement;

#[track_caller]
fn check(printed: Option<f64>, stated: Option<f64>, expected: &str) {
    let mut sketch = Sketch::new().undrawn("sheet", "sheet").subjects(&["sheet"]);
    for (name, feet) in [("inch_printed", printed), ("inch_stated", stated)] {
        if let Some(feet) = feet {
            sketch = sketch.stating(name, Length::from_feet(feet));
        }
    }
    assert_eq!(sketch.ask::<ScaleAgreement>(), expected);
}

#[test]
fn printed_over_stated() {
    check(Some(16.0), Some(20.0), "sheet: 0.8; inch_printed 4.877 m, inch_stated 6.096 m");
    check(Some(10.0), Some(8.0), "sheet: 1.25; inch_printed 3.048 m, inch_stated 2.438 m");
    check(Some(20.0), Some(20.0), "sheet: 1; inch_printed 6.096 m, inch_stated 6.096 m");
}

#[test]
fn one_alone_says_nothing() {
    check(Some(16.0), None, "sheet: not applicable, no scale is stated");
    check(None, Some(20.0), "sheet: not applicable, no dimension was taken off the print");
    check(None, None, "sheet: not applicable, no scale is stated");
}

#[test]
fn a_scale_of_nothing_is_lacking() {
    check(Some(16.0), Some(0.0), "sheet: lacking a stated scale");
}
