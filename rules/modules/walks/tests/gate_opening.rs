//! Openings of gates: stated, drawn, and a leaf that says neither.

use groundrule_kit::{Answer, Check, Length, Rect, Sketch};
use groundrule_walks::GateOpening;

const LINE: Rect = Rect::metres(0.0, 0.0, 1.0, 0.0);
const OUTLINE: Rect = Rect::metres(0.0, 0.0, 1.0, 0.1);

fn gate(drawn: Option<Rect>, facts: &[(&str, f64)]) -> Sketch {
    let sketch = match drawn {
        Some(rect) => Sketch::new().feature("gate", "structure/gate", rect),
        None => Sketch::new().undrawn("gate", "structure/gate"),
    };
    facts
        .iter()
        .fold(sketch, |sketch, (name, metres)| sketch.stating(name, Length::from_metres(*metres)))
        .subjects(&["gate"])
}

#[test]
fn stated_governs_over_drawn_and_a_leaf_is_not_an_opening() {
    let check = |drawn, facts: &[(&str, f64)], expected: &str| {
        assert_eq!(gate(drawn, facts).ask::<GateOpening>(), expected);
    };
    check(None, &[("clear_opening", 0.9)], "gate: 0.9 m; basis stated");
    check(Some(LINE), &[("clear_opening", 0.9)], "gate: 0.9 m; basis stated");
    check(Some(LINE), &[], "gate: 1 m; basis drawn");
    check(Some(LINE), &[("leaf_width", 0.95)], "gate: 1 m; basis drawn");
    check(Some(OUTLINE), &[], "gate: lacking clear opening of gate");
    check(None, &[("leaf_width", 0.95)], "gate: lacking clear opening of gate");
    check(None, &[], "gate: lacking clear opening of gate");
}

#[test]
fn what_is_lacking_says_where_to_measure() {
    let how = |facts: &[(&str, f64)]| {
        let readings = GateOpening::run(&gate(None, facts)).unwrap();
        match &readings[0].answer {
            Answer::Lacking(needs) => needs[0].how.clone(),
            other => panic!("{other:?}"),
        }
    };
    assert_eq!(
        how(&[]),
        "open the leaf to 90 degrees, measure from its face to the stop on the latch side, and state that as \
         `clear_opening`, or draw the gate as a line from post to post"
    );
    assert_eq!(
        how(&[("leaf_width", 0.9)]),
        "the width of the leaf is not the width of the way through: open the leaf to 90 degrees, measure from its \
         face to the stop on the latch side, and state that as `clear_opening`"
    );
}
