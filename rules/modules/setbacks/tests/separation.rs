//! Gaps on a sketch: a lot with a house, a garage 3 m east of it and a shed 6 m north of it.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::Separation;

fn yard() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 30.0, 40.0))
        .feature("house", "structure/dwelling", Rect::metres(5.0, 5.0, 15.0, 15.0))
        .on("lot")
        .feature("garage", "structure/detached-garage", Rect::metres(18.0, 5.0, 24.0, 11.0))
        .on("lot")
        .feature("shed", "structure/shed", Rect::metres(5.0, 21.0, 8.0, 23.0))
        .on("lot")
}

#[track_caller]
fn check(sketch: &Sketch, expected: &str) {
    assert_eq!(sketch.ask::<Separation>(), expected);
}

#[test]
fn a_gap_to_each_other_on_the_lot() {
    let sketch = yard().subjects(&["shed"]).group("others", &["house", "garage"]);
    // Shed to garage: 10 m across and 10 m up.
    check(&sketch, "shed > house: 6 m; other house\nshed > garage: 14.142 m; other garage");
}

#[test]
fn a_pair_of_two_subjects_is_measured_once() {
    let all = ["house", "garage", "shed"];
    check(
        &yard().subjects(&all).group("others", &all),
        "house > garage: 3 m; other garage\nhouse > shed: 6 m; other shed\n\
         garage > shed: 14.142 m; other shed\n\
         shed: not applicable, each gap is measured from the other, which comes first in the plan",
    );
}

#[test]
fn nearest_only() {
    let sketch = yard().parameter("which", "nearest");
    check(
        &sketch.clone().subjects(&["shed"]).group("others", &["garage", "house"]),
        "shed > house: 6 m; other house",
    );
    let all = ["house", "garage", "shed"];
    check(
        &sketch.subjects(&all).group("others", &all),
        "house > garage: 3 m; other garage\n\
         garage: not applicable, each gap is measured from the other, which comes first in the plan\n\
         shed > house: 6 m; other house",
    );
}

#[test]
fn no_farther_than_the_reach() {
    let sketch = yard().subjects(&["shed", "garage"]).group("others", &["house"]);
    check(
        &sketch.parameter("reach", Length::from_metres(5.0)),
        "garage > house: 3 m; other house\n\
         shed: not applicable, nothing to be kept apart from is within reach on its lot",
    );
}

#[test]
fn an_overlap_is_negative() {
    let sketch = yard()
        .feature("deck", "structure/deck", Rect::metres(5.0, 14.0, 9.0, 18.0))
        .on("lot")
        .subjects(&["deck"])
        .group("others", &["house"]);
    check(&sketch, "deck > house: -1 m; other house");
}

#[test]
fn another_lot_is_another_matter() {
    let sketch = yard()
        .lot("next", Rect::metres(30.0, 0.0, 60.0, 40.0))
        .feature("barn", "structure", Rect::metres(31.0, 5.0, 35.0, 9.0))
        .on("next")
        .subjects(&["garage"])
        .group("others", &["barn"]);
    let alone = "garage: not applicable, nothing to be kept apart from is within reach on its lot";
    check(&sketch, alone);
    check(&sketch.parameter("reach", Length::from_metres(50.0)), alone);
}

#[test]
fn what_is_not_drawn_or_has_no_lot_is_lacking() {
    let sketch = yard()
        .undrawn("kiosk", "structure")
        .on("lot")
        .feature("tent", "structure", Rect::metres(1.0, 1.0, 2.0, 2.0))
        .subjects(&["kiosk", "tent", "shed"])
        .group("others", &["house", "kiosk"]);
    let near = "shed > house: 6 m; other house\nshed > kiosk: lacking; other kiosk\n\
                kiosk: lacking outline of kiosk\ntent: lacking lot of tent";
    check(&sketch, near);
    // A search by place passes over the kiosk, and over the house once it is out of reach.
    check(&sketch.clone().parameter("reach", Length::from_metres(6.0)), near);
    check(
        &sketch.clone().parameter("reach", Length::from_metres(1.0)),
        "shed > kiosk: lacking; other kiosk\nkiosk: lacking outline of kiosk\ntent: lacking lot of tent",
    );
    // What is not drawn might be the nearest.
    check(&sketch.parameter("which", "nearest"), near);
}

#[test]
fn a_wrong_reach_is_refused() {
    let sketch = yard().subjects(&["shed"]).group("others", &["house"]);
    let ask = |value: groundrule_kit::Value, expected: &str| {
        check(
            &sketch.clone().parameter("reach", value),
            &format!("refused: parameter `reach` is {expected}"),
        );
    };
    ask(Length::from_metres(-1.0).into(), "less than zero; give a length with its unit, such as \"20 ft\"");
    ask(
        Length::from_metres(f64::NAN).into(),
        "not a finite length; give a length with its unit, such as \"20 ft\"",
    );
    ask("far".into(), "a text; give a length with its unit, such as \"20 ft\"");
    ask(
        groundrule_kit::Ratio::from_percent(5.0).into(),
        "a ratio; give a length with its unit, such as \"20 ft\"",
    );
}
