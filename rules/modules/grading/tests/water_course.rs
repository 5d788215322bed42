//! A lawn and a downspout, and where their water ends.

use groundrule_grading::WaterCourse;
use groundrule_kit::{Grade, Length, Outcome, Rect, Sketch};

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<WaterCourse>(), expected);
}

fn yard() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("lawn", "planting/lawn", Rect::metres(0.0, 20.0, 20.0, 40.0))
        .feature("inlet", "inlet", Rect::metres(10.0, 30.0, 10.0, 30.0))
        .plane(Grade::Proposed, Length::from_metres(100.0), -0.02, 0.0)
        .subjects(&["lawn"])
        .group("ends", &["inlet"])
}

#[test]
fn most_first() {
    let sketch = yard();
    let (inlet, west) = (sketch.id("inlet"), sketch.id("lot.w"));
    let sketch = sketch
        .runs_to("lawn", Outcome::At(inlet))
        .runs_to("lawn", Outcome::Over(west))
        .runs_to("lawn", Outcome::Over(west))
        .runs_to("lawn", Outcome::Stands);
    let goes = "2 of 4 places over lot.w, 1 of 4 places to inlet, 1 of 4 places standing on the lot";
    check(
        &sketch,
        &format!("lawn: 1; goes {goes}, places 4, shown_as water {goes}, zero_as none that stands"),
    );
}

#[test]
fn all_to_one_end() {
    let sketch = yard();
    let inlet = sketch.id("inlet");
    check(
        &sketch.runs_to("lawn", Outcome::At(inlet)),
        "lawn: 0; goes to inlet, places 1, shown_as water to inlet, zero_as none that stands",
    );
}

#[test]
fn what_is_lacking() {
    check(&yard().parameter("grade", "existing"), "lawn: lacking levels of the existing ground");
    check(&yard(), "lawn: lacking levels of the proposed ground at lawn");
    check(&yard().runs_to("lawn", Outcome::Unknown), "lawn: lacking levels of the proposed ground at lawn");
}
