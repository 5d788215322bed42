//! A zone cut short by the lot line.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::ReachToLine;

#[test]
fn the_zone_ends_at_the_line_or_at_its_own_width() {
    let sketch = Sketch::new()
        .lot("lot", Rect::feet(0.0, 0.0, 200.0, 400.0))
        .feature("house", "dwelling", Rect::feet(60.0, 150.0, 100.0, 200.0))
        .on("lot")
        .subjects(&["house"])
        .group("lines", &["lot.w", "lot.n"]);
    assert_eq!(
        sketch.clone().parameter("width", Length::from_feet(100.0)).ask::<ReachToLine>(),
        "house > lot.n: 30.48 m; line lot.n, distance 60.96 m\nhouse > lot.w: 18.288 m; line lot.w, distance 18.288 m"
    );
    assert_eq!(
        sketch.ask::<ReachToLine>(),
        "refused: parameter `width` is not given; give the width of the zone, such as \"100 ft\""
    );
}
