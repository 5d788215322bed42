//! A post hole with a pipe, a cable and a meter around it.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::DigList;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<DigList>(), expected);
}

fn post() -> Sketch {
    Sketch::new()
        .feature("post", "structure/fence", Rect::metres(0.0, 0.0, 0.3, 0.3))
        .feature("cable", "utility/buried-line/buried-power", Rect::metres(2.3, -9.0, 2.3, 9.0))
        .stating("kind", "buried-power")
        .feature("gas", "utility/buried-line/gas-line", Rect::metres(1.3, -9.0, 1.3, 9.0))
        .stating("kind", "gas-line")
        .stating("located", "marked")
        .stating("diameter", Length::from_metres(0.1))
        .stating("cover", Length::from_metres(0.5))
        .feature("meter", "utility/meter/gas-meter", Rect::metres(-9.0, 0.0, -9.0, 0.0))
        .subjects(&["post"])
        .group("near", &["cable", "gas", "meter"])
        .parameter("marked", Length::from_metres(0.6))
        .parameter("reach", Length::from_metres(3.0))
        .parameter("least_cover", Length::from_metres(0.05))
        .parameter("least_power", Length::from_metres(0.15))
}

#[test]
fn what_is_near_nearest_first() {
    check(
        &post(),
        "post: 2; item_1_name gas, item_1_kind gas-line, item_1_gap 0.95 m, item_1_strip 0.6 m, \
         item_1_located marked, item_1_cover 0.5 m, item_1_cover_basis stated, item_2_name cable, \
         item_2_kind buried-power, item_2_gap 2 m, item_2_located not stated, item_2_cover 0.15 m, \
         item_2_cover_basis assumed",
    );
}

#[test]
fn equipment_has_no_cover_and_what_is_not_drawn_stands_last() {
    let sketch = post().undrawn("valve", "utility/valve").group("near", &["valve", "meter"]);
    check(
        &sketch.parameter("reach", Length::from_metres(20.0)),
        "post: 2; item_1_name meter, item_1_gap 9 m, item_2_name valve",
    );
}

#[test]
fn nothing_near_is_a_count_too() {
    check(&post().parameter("reach", Length::from_metres(0.5)), "post: 0");
    let deep = Sketch::new()
        .feature("pit", "planting/tree", Rect::metres(0.0, 0.0, 1.0, 1.0))
        .stating("dig_depth", Length::from_metres(0.6))
        .undrawn("pond", "water/pond")
        .subjects(&["pit", "pond"])
        .parameter("marked", Length::from_metres(0.6));
    check(&deep, "pit: 0; dig_depth 0.6 m\npond: lacking outline of pond");
    let refused = deep.parameter("least_gas", "shallow");
    assert!(refused.ask::<DigList>().starts_with("refused: parameter `least_gas` is a text"));
}
