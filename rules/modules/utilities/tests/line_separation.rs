//! Pipes side by side, across each other and beside a tree.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_utilities::LineSeparation;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<LineSeparation>(), expected);
}

/// A water pipe 100 mm wide along x = 0 and a sewer 150 mm wide with its near side so far east.
fn trench(gap: f64) -> Sketch {
    Sketch::new()
        .feature("water", "utility/buried-line/water-line", Rect::metres(0.0, 0.0, 0.1, 20.0))
        .feature("sewer", "utility/buried-line/sewer-lateral", Rect::metres(0.1 + gap, 0.0, 0.25 + gap, 20.0))
        .subjects(&["water"])
        .group("others", &["sewer"])
}

#[test]
fn outside_to_outside() {
    // IRC P2906.4.1 asks for 5 ft of earth between the building's water pipe and its sewer.
    let five_feet = Length::from_feet(5.0).metres();
    check(&trench(five_feet), "water > sewer: 1.524 m; other sewer");
    check(&trench(1.0), "water > sewer: 1 m; other sewer");
}

#[test]
fn a_pair_both_ways_is_measured_once() {
    let both = ["water", "sewer"];
    check(
        &trench(2.0).subjects(&both).group("others", &both),
        "water > sewer: 2 m; other sewer\n\
         sewer > water: not applicable, the gap is measured from the other, which comes first in the plan; \
         other water",
    );
}

#[test]
fn what_crosses_has_no_earth_beside_it() {
    let sketch = trench(2.0)
        .feature("gas", "utility/buried-line/gas-line", Rect::metres(-5.0, 10.0, 5.0, 10.0))
        .group("others", &["gas"]);
    check(&sketch, "water > gas: not applicable, it crosses or joins gas; no earth lies between; other gas");
}

#[test]
fn what_stands_on_a_line_is_told_as_it_is() {
    let sketch = trench(2.0)
        .feature("shed", "structure/shed", Rect::metres(-3.0, 2.0, 0.05, 5.0))
        .subjects(&["shed"])
        .group("others", &["water"]);
    check(&sketch, "shed > water: -0.05 m; other water");
}

#[test]
fn far_away_or_not_drawn() {
    let sketch = trench(2.0).parameter("reach", Length::from_metres(1.5));
    let alone = "water: not applicable, nothing to be kept apart from is within reach";
    check(&sketch, alone);
    check(
        &sketch
            .undrawn("cable", "utility/buried-line/buried-power")
            .subjects(&["water", "cable"])
            .group("others", &["sewer", "cable"]),
        "water > cable: lacking; other cable\ncable: lacking outline of cable",
    );
}
