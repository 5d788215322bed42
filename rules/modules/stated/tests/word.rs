//! Facts in words.

use groundrule_kit::{Rect, Sketch};
use groundrule_stated::Word;

fn gate(swing: Option<&str>) -> Sketch {
    let gate = Sketch::new().feature("gate", "gate", Rect::metres(0.0, 0.0, 1.0, 0.0)).subjects(&["gate"]);
    let gate = swing.into_iter().fold(gate, |gate, swing| gate.stating("swing", swing));
    gate.parameter("name", "swing")
}

#[test]
fn the_word_meets_or_not() {
    let check = |swing, expected: &str| {
        let words = vec!["out".to_owned(), "slide".to_owned()];
        assert_eq!(gate(swing).parameter("words", words).ask::<Word>(), expected, "{swing:?}");
    };
    check(Some("out"), "gate: yes; said out");
    check(Some("Out "), "gate: yes; said Out ");
    check(Some("in"), "gate: no; said in");
    check(None, "gate: lacking swing of gate");
}

#[test]
fn a_row_must_say_the_words() {
    let refused = gate(Some("in")).ask::<Word>();
    assert!(refused.starts_with("refused: parameter `words` is not given"), "{refused}");
}
