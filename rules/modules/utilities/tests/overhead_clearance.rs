//! Wires over a pool, a shed and a tree.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::OverheadClearance;

fn feet(figure: f64) -> f64 {
    Length::from_feet(figure).metres()
}

#[track_caller]
fn check(sketch: &Sketch, begins: &str) {
    let told = sketch.ask::<OverheadClearance>();
    assert!(told.starts_with(begins), "{told}");
}

/// A pool with a cable so many feet beside it.
fn pool(across: f64) -> Sketch {
    Sketch::new()
        .feature("pool", "water/pool", Rect::metres(0.0, 0.0, 8.0, 4.0))
        .feature(
            "cable",
            "utility/overhead-wire",
            Rect::metres(8.0 + feet(across), -5.0, 8.0 + feet(across), 9.0),
        )
        .subjects(&["pool"])
        .group("wires", &["cable"])
        .parameter("measure", "straight")
        .parameter("reach", Length::from_feet(10.0))
}

#[test]
fn a_cable_near_a_pool() {
    // Worked (NFPA 70, table of 680.9(A): 22.5 ft in any direction, within 10 ft of the pool's inside wall): 8 ft out
    // and 18 ft up are 19.70 ft, 8 ft out and 22 ft up are 23.41 ft, and 12 ft out is outside the band.
    let at = |across: f64, up: f64| pool(across).stating("ground_clearance", Length::from_feet(up));
    check(&at(8.0, 18.0), "pool > cable: 6.004 m; across 2.438 m, over 5.486 m");
    check(&at(8.0, 22.0), "pool > cable: 7.135 m; across 2.438 m, over 6.706 m");
    check(&at(12.0, 18.0), "pool: not applicable, no wire is within reach");
    assert!((feet(19.70) - 6.004).abs() < 0.003 && (feet(23.41) - 7.135).abs() < 0.003);
}

#[test]
fn straight_above_is_the_height_alone() {
    let over = Sketch::new()
        .feature("pool", "water/pool", Rect::metres(0.0, 0.0, 8.0, 4.0))
        .feature("cable", "utility/overhead-wire", Rect::metres(4.0, -5.0, 4.0, 9.0))
        .stating("ground_clearance", Length::from_metres(7.0))
        .subjects(&["pool"])
        .group("wires", &["cable"])
        .parameter("measure", "straight");
    check(&over, "pool > cable: 7 m;");
}

fn shed() -> Sketch {
    Sketch::new()
        .feature("wire", "utility/overhead-wire", Rect::metres(5.0, -5.0, 5.0, 9.0))
        .stating("ground_clearance", Length::from_metres(6.0))
        .feature("shed", "structure/shed", Rect::metres(0.0, 0.0, 3.0, 2.0))
        .subjects(&["shed"])
        .group("wires", &["wire"])
}

#[test]
fn across_and_over_a_roof() {
    check(&shed(), "shed > wire: 2 m; wire wire");
    let tall = shed().stating("height", Length::from_metres(3.5)).parameter("measure", "over");
    check(&tall, "shed > wire: 2.5 m; across 2 m, over 2.5 m");
}

#[test]
fn a_crown_is_nearer_than_its_trunk() {
    let tree = shed()
        .feature("tree", "planting/tree", Rect::metres(0.0, 5.0, 0.0, 5.0))
        .subjects(&["tree"])
        .parameter("from", "crown");
    check(&tree, "tree > wire: lacking mature spread of tree;");
    let tree = tree.stating("mature_spread", Length::from_metres(6.0));
    check(&tree, "tree > wire: 2 m; wire wire");
    let over = tree.parameter("measure", "over");
    check(&over, "tree > wire: lacking mature height of tree;");
    check(&over.stating("mature_height", Length::from_metres(7.0)), "tree > wire: -1 m;");
}

#[test]
fn heights_and_outlines_that_are_lacking() {
    check(&pool(8.0), "pool > cable: lacking ground clearance of cable;");
    let sketch = shed().parameter("measure", "over");
    check(&sketch, "shed > wire: lacking height of shed;");
    let sketch =
        sketch.undrawn("drop", "utility/overhead-wire").stating("ground_clearance", Length::from_metres(5.0));
    let sketch = sketch.undrawn("kiosk", "structure").subjects(&["kiosk"]).group("wires", &["wire", "drop"]);
    check(&sketch, "kiosk: lacking outline of kiosk");
    check(
        &shed().undrawn("drop", "utility/overhead-wire").group("wires", &["drop"]),
        "shed > drop: lacking;",
    );
    check(&shed().parameter("measure", "up"), "refused: parameter `measure` is \"up\"");
}
