//! Both side yards together.

use groundrule_kit::{Rect, Sketch};
use groundrule_setbacks::YardSum;

fn house() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("house", "dwelling", Rect::metres(2.0, 8.0, 15.0, 20.0))
        .on("lot")
        .subjects(&["house"])
}

#[test]
fn the_yards_are_added() {
    let told = house().group("lines", &["lot.w", "lot.e"]).ask::<YardSum>();
    assert_eq!(told, "house > lot.w > lot.e: 7 m; least 2 m");
}

#[test]
fn one_line_makes_no_sum() {
    assert_eq!(
        house().group("lines", &["lot.w"]).ask::<YardSum>(),
        "house > lot.w: lacking a second side line of lot"
    );
    assert_eq!(house().ask::<YardSum>(), "house: not applicable, lot has no line of the kind asked about");
}
