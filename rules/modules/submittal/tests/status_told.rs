//! Existing, proposed and to be removed, told apart.

use groundrule_kit::{Rect, Sketch};
use groundrule_submittal::StatusTold;

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<StatusTold>(), expected);
}

/// A standing house and a carport of which nothing is said.
fn plan() -> Sketch {
    Sketch::new()
        .undrawn("sheet", "sheet")
        .feature("house", "structure/dwelling", Rect::metres(0.0, 0.0, 10.0, 10.0))
        .stating("status", "existing")
        .feature("carport", "structure/carport", Rect::metres(12.0, 0.0, 15.0, 5.0))
        .subjects(&["sheet"])
}

#[test]
fn each_thing_says_its_status() {
    let plan = || plan().parameter("all_labelled", true);
    check(&plan().group("things", &["house"]), "sheet: yes; things 1");
    check(&plan().group("things", &["house", "carport"]), "sheet: lacking the status of carport; things 2");
}

#[test]
fn one_of_them_has_the_status_asked_for() {
    let proposed = plan().stating("status", "proposed").group("things", &["house", "carport"]);
    check(&proposed.clone().parameter("status", "proposed"), "sheet: yes; things 1");
    check(&proposed.parameter("status", "remove"), "sheet: lacking what is to be removed; things 0");
    let unlabelled = || plan().group("things", &["house", "carport"]).parameter("status", "proposed");
    check(&unlabelled(), "sheet: lacking what is proposed; things 0");
    check(
        &unlabelled().parameter("all_labelled", true),
        "sheet: lacking the status of carport, what is proposed; things 0",
    );
}

#[test]
fn a_declaration_answers_for_what_is_not_there() {
    let declared = |said: &str| {
        Sketch::new()
            .undrawn("sheet", "sheet")
            .stating("declared.removals", said)
            .undrawn("house", "structure/dwelling")
            .stating("status", "existing")
            .subjects(&["sheet"])
            .group("things", &["house"])
            .parameter("status", "remove")
            .parameter("subject", "removals")
    };
    check(&declared("none"), "sheet: yes; things 0");
    check(&declared("shown"), "sheet: lacking what is to be removed; things 0");
}

#[test]
fn another_status_is_refused() {
    check(
        &plan().parameter("status", "new"),
        "refused: parameter `status` is \"new\"; it may be \"existing\", \"proposed\" or \"remove\"",
    );
}
