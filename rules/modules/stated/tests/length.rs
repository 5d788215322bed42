//! Stated lengths.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_stated::StatedLength;

#[test]
fn what_is_stated_is_judged_and_what_is_not_is_asked_for() {
    let gate = |name: &str, sketch: Sketch| sketch.feature(name, "gate", Rect::metres(0.0, 0.0, 1.0, 0.0));
    let sketch = gate("front", Sketch::new()).stating("latch_height", Length::from_metres(1.37));
    let sketch = gate("back", sketch).subjects(&["front", "back"]);
    assert_eq!(
        sketch.clone().parameter("name", "latch_height").ask::<StatedLength>(),
        "front: 1.37 m\nback: lacking latch height of back"
    );
    assert_eq!(
        sketch.ask::<StatedLength>(),
        "refused: parameter `name` is not given; give it as the name of a length, such as \"latch_height\""
    );
}
