//! What is kept of the first rain.

use groundrule_kit::{Length, Ratio, Rect, Sketch};
use groundrule_runoff::QualityStorage;

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("roof", "structure", Rect::metres(0.0, 0.0, 50.0, 60.0))
        .on("lot")
        .feature("g", "rain-garden", Rect::metres(60.0, 60.0, 80.0, 80.0))
        .on("lot")
        .stating("ponding_depth", Length::from_metres(0.2))
        .feature("w", "dry-well", Rect::metres(90.0, 90.0, 92.0, 92.0))
        .on("lot")
        .stating("depth", Length::from_metres(2.0))
        .stating("void_share", Ratio::from_percent(50.0))
        .subjects(&["lot"])
        .group("hard", &["roof"])
        .parameter("rain", Length::from_metres(0.025))
}

#[test]
fn what_gardens_and_pits_hold() {
    // 400 x 0.2 and 4 x 2 x 0.5; 10 000 x 0.025 x (0.05 + 0.9 x 0.3).
    let told = lot().group("practices", &["g", "w"]).ask::<QualityStorage>();
    assert_eq!(told, "lot: 84 m3; quality_volume 80 m3, hard_share 0.3, drained_area 10000 m2");
    let none = lot().ask::<QualityStorage>();
    assert!(none.starts_with("lot: 0 m3; quality_volume 80 m3"), "{none}");
}

#[test]
fn what_is_not_known() {
    let shallow = lot().feature("p", "rain-garden", Rect::metres(60.0, 10.0, 80.0, 20.0)).on("lot");
    let told = shallow.group("practices", &["p"]).ask::<QualityStorage>();
    assert_eq!(told, "lot: lacking depth of water in p");
    let refused = Sketch::new().subjects(&[]).ask::<QualityStorage>();
    assert_eq!(refused, "refused: parameter `rain` is not given; give a depth of rain, such as \"1 in\"");
}

#[test]
fn little_hard_ground_keeps_a_fifth_of_an_inch() {
    // 10 000 m2 by 0.2 in; by the coefficient alone 10 % were 10 000 x 0.025 x 0.14 = 35 m3.
    let check = |hard: f64, expected: &str| {
        let told = Sketch::new()
            .feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 100.0, 100.0))
            .stating("hard_share", Ratio::from_percent(hard))
            .subjects(&["a"])
            .parameter("rain", Length::from_metres(0.025))
            .ask::<QualityStorage>();
        assert!(told.starts_with(&format!("a: 0 m3; quality_volume {expected} m3")), "{told}");
    };
    check(10.0, "50.8");
    check(14.9, "50.8");
    check(15.0, "46.25");
}
