//! A downspout beside a house, and the side lines of its lot.

use groundrule_grading::KeepsClear;
use groundrule_kit::{Grade, Length, Outcome, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<KeepsClear>(), expected);
}

fn yard() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .lot("next", Rect::metres(20.0, 0.0, 40.0, 40.0))
        .feature("spout", "downspout", Rect::metres(16.0, 20.0, 16.0, 20.0))
        .on("lot")
        .plane(Grade::Proposed, Length::from_metres(100.0), -0.02, 0.0)
        .subjects(&["spout"])
        .group("of", &["lot.e", "lot.w", "next.w"])
}

#[test]
fn each_line_of_its_lot() {
    let sketch = yard().clear_of("spout", "lot.e", -2.5).clear_of("spout", "lot.w", 4.0);
    let east = sketch.id("lot.e");
    check(
        &sketch.runs_to("spout", Outcome::Over(east)),
        "spout > lot.e: -2.5; to lot.e, goes over lot.e, shown_as water there, zero_as no water there\n\
         spout > lot.w: 4; to lot.w, goes over lot.e, shown_as no water there, zero_as no water there",
    );
}

#[test]
fn nothing_to_keep_clear_of() {
    let alone = yard().group("of", &["next.w"]);
    check(&alone, "spout: not applicable, there is nothing on its lot to keep clear of");
}

#[test]
fn what_is_lacking() {
    check(&yard().parameter("grade", "existing"), "spout: lacking levels of the existing ground");
    let undrawn = yard().undrawn("house", "structure/dwelling").on("lot").group("of", &["house"]);
    check(&undrawn, "spout > house: lacking outline of house");
}
