//! A house with soil and a patio at its walls, in figures of the model code: 6 in of fall in 10 ft.

use groundrule_grading::FallFromWall;
use groundrule_kit::{Grade, Length, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<FallFromWall>(), expected);
}

fn yard() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 60.0, 100.0))
        .feature("house", "structure/dwelling", Rect::feet(10.0, 20.0, 40.0, 50.0))
        .on("lot")
        .feature("patio", "paving/patio", Rect::feet(10.0, 50.0, 30.0, 60.0))
        .on("lot")
        .plane(Grade::Proposed, Length::from_feet(100.0), 0.0, 0.0)
        .parameter("run", Length::from_feet(10.0))
        .subjects(&["house"])
        .group("paving", &["patio"])
}

#[test]
fn each_side_by_itself() {
    // International Residential Code R401.3: 6 in in 10 ft; beside a lot line at 6 ft, 5 % of those (T01, T04).
    let sketch = yard()
        .wall_fall("house", (Length::from_inches(6.0), Length::from_feet(10.0)), None, None)
        .wall_fall("house", (Length::from_inches(3.6), Length::from_feet(6.0)), None, Some("lot.w"))
        .wall_fall("house", (Length::from_inches(2.4), Length::from_feet(10.0)), Some("patio"), None);
    check(
        &sketch,
        "house: 0.05; fall 0.152 m, run 3.048 m, cut_short no\n\
         house > lot.w: 0.05; fall 0.091 m, run 1.829 m, cut_short yes, cut_by lot.w",
    );
    check(
        &sketch.parameter("ground", "hard"),
        "house > patio: 0.02; fall 0.061 m, run 3.048 m, cut_short no",
    );
}

#[test]
fn ground_that_is_not_there() {
    let paved =
        yard().wall_fall("house", (Length::from_inches(2.4), Length::from_feet(10.0)), Some("patio"), None);
    check(&paved, "house: not applicable, paving lies all along its walls");
    let soil = yard().wall_fall("house", (Length::from_inches(6.0), Length::from_feet(10.0)), None, None);
    check(&soil.parameter("ground", "hard"), "house: not applicable, no paving lies at its walls");
    let line =
        yard().feature("stair", "structure/stair", Rect::feet(0.0, 0.0, 9.0, 0.0)).subjects(&["stair"]);
    check(&line, "stair: not applicable, it is not drawn with walls around it");
}

#[test]
fn what_is_lacking() {
    check(&yard().parameter("grade", "existing"), "house: lacking levels of the existing ground");
    let undrawn = yard().undrawn("shed", "structure/shed").subjects(&["shed"]);
    check(&undrawn, "shed: lacking outline of shed");
}

#[test]
fn what_a_row_must_say() {
    let without = Sketch::new();
    check(&without, "refused: parameter `run` is not given; give a length such as \"10 ft\"");
    check(
        &without.clone().parameter("run", Length::ZERO),
        "refused: parameter `run` is zero; give a length such as \"10 ft\"",
    );
    check(
        &without.parameter("run", Length::from_feet(10.0)).parameter("ground", "mud"),
        "refused: parameter `ground` is \"mud\"; it may be \"soil\" or \"hard\"",
    );
}
