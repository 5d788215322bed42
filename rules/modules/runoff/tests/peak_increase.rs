//! How much a peak flow grows.

use groundrule_kit::{Ratio, Rect, Sketch, Speed};
use groundrule_runoff::PeakIncrease;

fn ground() -> Sketch {
    let part = |sketch: Sketch, name: &str, x: f64, width: f64, status: &str| {
        sketch
            .feature(name, "structure/shed", Rect::metres(x, 0.0, x + width, 100.0))
            .stating("status", status)
    };
    let sketch = Sketch::new().feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 1000.0, 100.0));
    let sketch = part(sketch, "old", 0.0, 50.0, "remove");
    let sketch = part(sketch, "house", 100.0, 100.0, "existing");
    part(sketch, "new", 300.0, 150.0, "proposed")
        .subjects(&["a"])
        .group("surfaces", &["old", "house", "new"])
        .parameter("intensity", Speed::from_metres_per_second(0.001))
        .parameter("coefficients", vec!["structure 1".to_owned(), "ground 0.2".to_owned()])
}

#[test]
fn after_less_before() {
    // Roofs before 15 000 m2, after 25 000 m2: a coefficient of 0.32, then 0.4.
    let told = ground().ask::<PeakIncrease>();
    assert!(told.starts_with("a: 8 m3/s; before 32 m3/s, after 40 m3/s"), "{told}");
    assert!(told.ends_with("item_4_coefficient 0.4, factor 1.25"), "{told}");
    assert!(told.contains("coefficient_before 0.32"), "{told}");
    let bare = ground().parameter("before", "ground").ask::<PeakIncrease>();
    assert!(bare.starts_with("a: 20 m3/s; before 20 m3/s, after 40 m3/s"), "{bare}");
}

#[test]
fn one_coefficient_for_all_says_nothing_of_before_and_after() {
    let told = ground().feature("b", "area/drainage-area", Rect::metres(0.0, 0.0, 1.0, 1.0));
    let told =
        told.stating("runoff_coefficient", Ratio::from_fraction(0.4)).subjects(&["b"]).ask::<PeakIncrease>();
    assert_eq!(told, "b: not applicable, it states one coefficient for all its ground");
}

#[test]
fn what_has_no_coefficient_is_asked_for() {
    let told = ground().parameter("coefficients", "structure 1").ask::<PeakIncrease>();
    assert_eq!(told, "a: lacking runoff coefficient of the rest of the ground");
}
