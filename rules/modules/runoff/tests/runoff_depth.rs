//! Runoff by curve number.

use groundrule_kit::{Length, Ratio, Rect, Sketch};
use groundrule_runoff::RunoffDepth;

/// A kilometre of ground with a metre of rain, so that depths show.
fn ground(number: f64) -> Sketch {
    Sketch::new()
        .feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 1000.0, 1000.0))
        .stating("curve_number", Ratio::from_fraction(number))
        .subjects(&["a"])
        .parameter("rain", Length::from_metres(1.0))
}

#[test]
fn by_a_stated_number() {
    // S = 0.254 m, Ia = 0.0508 m: 0.9492 squared over 1.2032.
    let told = ground(50.0).ask::<RunoffDepth>();
    assert_eq!(
        told,
        "a: 0.749 m; runoff_volume 748820.346 m3, drained_area 1000000 m2, below_method no, item_1_name a, item_1_area \
         1000000 m2, item_1_curve_number 50, item_2_name all together, item_2_curve_number 50, item_2_combined by the mean \
         number"
    );
    assert!(ground(39.0).ask::<RunoffDepth>().contains("below_method yes"));
    assert!(ground(50.4).ask::<RunoffDepth>().contains("50.4, used as 50"));
}

#[test]
fn by_cover_and_soil() {
    let cover = |group: &str| {
        Sketch::new()
            .feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 10.0, 10.0))
            .stating("ground_cover", "lawn-good")
            .stating("rain_depth", Length::from_metres(1.0))
            .subjects(&["a"])
            .parameter("soil_group", group)
            .ask::<RunoffDepth>()
    };
    assert!(cover("b").contains("item_1_curve_number 61"), "{}", cover("b"));
    assert_eq!(cover("E"), "a: lacking curve number of the rest of the ground");
}

#[test]
fn parts_added_and_averaged_differ() {
    let sketch = Sketch::new()
        .feature("a", "lot", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("roof", "structure/dwelling", Rect::metres(0.0, 0.0, 50.0, 100.0))
        .subjects(&["a"])
        .group("covers", &["roof"])
        .parameter("rain", Length::from_inches(3.0))
        .parameter("numbers", vec!["structure 98".to_owned(), "ground 61".to_owned()])
        .parameter("equal_to", Ratio::from_percent(50.0));
    let averaged = sketch.clone().parameter("rounding", "none").ask::<RunoffDepth>();
    // 1.219 in, which half of hard ground would be too.
    assert!(averaged.starts_with("a: 0.031 m;") && averaged.contains("equal_depth 0.031 m"), "{averaged}");
    // 1.567 in.
    let added = sketch.parameter("combine", "added").ask::<RunoffDepth>();
    assert!(added.starts_with("a: 0.04 m;"), "{added}");
}

#[test]
fn rain_is_asked_for() {
    let told = Sketch::new()
        .feature("a", "lot", Rect::metres(0.0, 0.0, 1.0, 1.0))
        .stating("curve_number", Ratio::from_fraction(70.0))
        .subjects(&["a"])
        .ask::<RunoffDepth>();
    assert_eq!(told, "a: lacking rain depth of a");
}

/// Ground besides of which only the soil is known: the row's cover on that soil, in what is compared with too.
#[test]
fn lawn_on_the_soil_that_is_stated() {
    let sketch = |group: Option<&str>, cover: &str| {
        let area = Sketch::new().feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 100.0, 100.0));
        let area = match group {
            Some(group) => area.stating("soil_group", group),
            None => area,
        };
        area.feature("roof", "structure/dwelling", Rect::metres(0.0, 0.0, 30.0, 100.0))
            .subjects(&["a"])
            .group("covers", &["roof"])
            .parameter("rain", Length::from_inches(3.0))
            .parameter("numbers", vec!["structure 98".to_owned(), "ground 74".to_owned()])
            .parameter("ground_cover", cover)
            .parameter("rounding", "none")
            .parameter("equal_to", Ratio::from_percent(30.0))
            .ask::<RunoffDepth>()
    };
    // 30 % of roof is what it is compared with: both depths come out the same on every soil.
    let check = |group: Option<&str>, rest: &str, all: &str| {
        let told = sketch(group, "lawn-good");
        assert!(told.contains(&format!("item_2_curve_number {rest}")), "{told}");
        assert!(told.contains(&format!("item_3_curve_number {all}")), "{told}");
        let depth = told.split([':', ';']).nth(1).unwrap().trim();
        assert!(told.contains(&format!("equal_depth {depth}")), "{told}");
    };
    check(Some("A"), "39", "56.7");
    check(Some("b"), "61", "72.1");
    check(Some("C"), "74", "81.2");
    check(Some("D"), "80", "85.4");
    check(None, "74", "81.2");
    assert_eq!(sketch(Some("E"), "lawn-good"), "a: lacking curve number of the rest of the ground");
    let refused = sketch(Some("B"), "moss");
    assert!(refused.starts_with("refused: parameter `ground_cover` is \"moss\""), "{refused}");
}
