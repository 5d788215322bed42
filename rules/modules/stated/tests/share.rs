//! Stated slopes and shares.

use groundrule_kit::{Ratio, Rect, Sketch};
use groundrule_stated::Share;

#[test]
fn what_is_stated_is_judged_and_what_is_not_is_asked_for() {
    let patio = |name: &str, sketch: Sketch| sketch.feature(name, "patio", Rect::metres(0.0, 0.0, 1.0, 1.0));
    let sketch = patio("terrace", Sketch::new()).stating("slope", Ratio::from_percent(2.0));
    let sketch = patio("court", sketch).subjects(&["terrace", "court"]);
    assert_eq!(
        sketch.clone().parameter("name", "slope").ask::<Share>(),
        "terrace: 0.02\ncourt: lacking slope of court"
    );
    assert!(sketch.ask::<Share>().starts_with("refused: parameter `name` is not given"));
}
