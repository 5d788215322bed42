//! Peak flow by the rational method.

use groundrule_kit::{Ratio, Rect, Sketch, Speed, Value};
use groundrule_runoff::PeakFlow;

/// 100 000 m2 of which a tenth is roof; a patio of another surface lies half under the roof. A millimetre a second is
/// hard rain, and makes each tenth of the coefficient 10 m3/s.
fn ground() -> Sketch {
    Sketch::new()
        .feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 400.0, 250.0))
        .feature("house", "structure/dwelling", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("patio", "paving/patio", Rect::metres(50.0, 0.0, 150.0, 100.0))
        .stating("surface", "gravel")
        .subjects(&["a"])
        .group("surfaces", &["patio", "house"])
        .parameter("intensity", Speed::from_metres_per_second(0.001))
}

fn texts(of: &[&str]) -> Value {
    Value::from(of.iter().map(|text| (*text).to_owned()).collect::<Vec<_>>())
}

#[test]
fn roofs_take_the_rain_first_and_a_place_counts_once() {
    let told = ground().parameter("coefficients", texts(&["structure 1", "gravel 0.5", "ground 0.2"]));
    // 0.1 x 1 + 0.05 x 0.5 + 0.85 x 0.2 = 0.295.
    assert_eq!(
        told.ask::<PeakFlow>(),
        "a: 29.5 m3/s; drained_area 100000 m2, item_1_name house, item_1_area 10000 m2, item_1_coefficient 1, item_2_name \
         patio, item_2_area 5000 m2, item_2_coefficient 0.5, item_3_name the rest of the ground, item_3_area 85000 m2, \
         item_3_coefficient 0.2, item_4_name all together, item_4_coefficient 0.295, item_4_k 1.008 for acres, 1/43,200 \
         for square feet"
    );
}

#[test]
fn what_is_stated_of_all_the_ground_is_taken() {
    let sketch = Sketch::new()
        .undrawn("a", "area/drainage-area")
        .stating("stated_area", groundrule_kit::Area::from_square_metres(1000.0))
        .stating("runoff_coefficient", Ratio::from_fraction(0.5))
        .stating("rain_intensity", Speed::from_metres_per_second(0.01))
        .subjects(&["a"]);
    assert!(sketch.ask::<PeakFlow>().starts_with("a: 5 m3/s; drained_area 1000 m2"));
    let customary = sketch.parameter("form", "customary").ask::<PeakFlow>();
    assert!(customary.starts_with("a: 4.959 m3/s"), "{customary}");
}

#[test]
fn what_has_no_coefficient_is_asked_for() {
    let told = ground().parameter("coefficients", texts(&["structure 1"])).ask::<PeakFlow>();
    assert_eq!(told, "a: lacking runoff coefficient of patio, runoff coefficient of the rest of the ground");
    let told = Sketch::new().feature("a", "lot", Rect::metres(0.0, 0.0, 1.0, 1.0)).subjects(&["a"]);
    assert_eq!(
        told.ask::<PeakFlow>(),
        "a: lacking rain intensity of a, runoff coefficient of the rest of the ground"
    );
}

#[test]
fn rows_that_cannot_be_asked() {
    let told = ground().subjects(&["house"]).ask::<PeakFlow>();
    assert!(told.starts_with("refused: the subject is a lot or another area, and house is not"), "{told}");
    let told = ground().parameter("coefficients", texts(&["structure"])).ask::<PeakFlow>();
    assert!(told.starts_with("refused: parameter `coefficients` is \"structure\""), "{told}");
}
