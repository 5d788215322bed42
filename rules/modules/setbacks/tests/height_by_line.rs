//! Heights beside a lot line.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::HeightByLine;

fn tree() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("tree", "planting/tree", Rect::metres(1.5, 9.0, 1.5, 9.0))
        .on("lot")
        .subjects(&["tree"])
        .group("lines", &["lot.w"])
}

#[test]
fn the_height_is_told_with_its_distance() {
    let tall = tree().stating("height", Length::from_metres(3.0));
    assert_eq!(tall.ask::<HeightByLine>(), "tree > lot.w: 3 m; line lot.w, distance 1.5 m");
    let grown = tall.stating("mature_height", Length::from_metres(9.0));
    assert_eq!(
        grown.parameter("of", "mature_height").ask::<HeightByLine>(),
        "tree > lot.w: 9 m; line lot.w, distance 1.5 m"
    );
}

#[test]
fn a_height_nobody_stated_is_lacking() {
    assert_eq!(tree().ask::<HeightByLine>(), "tree > lot.w: lacking height of tree");
}
