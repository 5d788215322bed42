//! Widths of walks, stated and drawn.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_walks::ClearWidth;

const WALK: Rect = Rect::metres(0.0, 0.0, 12.0, 1.2);
const BARE_LINE: Rect = Rect::metres(0.0, 0.0, 12.0, 0.0);

fn walk(drawn: Option<Rect>, stated: Option<f64>) -> Sketch {
    let sketch = match drawn {
        Some(rect) => Sketch::new().feature("walk", "paving/walk", rect),
        None => Sketch::new().undrawn("walk", "paving/walk"),
    };
    match stated {
        Some(metres) => sketch.stating("clear_width", Length::from_metres(metres)),
        None => sketch,
    }
    .subjects(&["walk"])
}

#[test]
fn the_lesser_of_stated_and_drawn() {
    let check = |drawn, stated, expected: &str| {
        assert_eq!(walk(drawn, stated).ask::<ClearWidth>(), expected);
    };
    check(Some(WALK), None, "walk: 1.2 m; basis drawn, drawn_width 1.2 m");
    check(Some(WALK), Some(0.9), "walk: 0.9 m; basis stated, stated_width 0.9 m, drawn_width 1.2 m");
    check(Some(WALK), Some(1.5), "walk: 1.2 m; basis drawn, stated_width 1.5 m, drawn_width 1.2 m");
    check(Some(WALK), Some(1.2), "walk: 1.2 m; basis stated, stated_width 1.2 m, drawn_width 1.2 m");
    check(None, Some(0.9), "walk: 0.9 m; basis stated, stated_width 0.9 m");
    check(Some(BARE_LINE), Some(0.9), "walk: 0.9 m; basis stated, stated_width 0.9 m");
    check(Some(BARE_LINE), None, "walk: lacking clear width of walk");
    check(None, None, "walk: lacking clear width of walk");
}
