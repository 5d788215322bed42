//! Shrubs under a tree.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_plants::BranchOver;

fn tree() -> Sketch {
    Sketch::new()
        .feature("shrub", "planting/shrub", Rect::metres(2.0, 0.0, 2.0, 0.0))
        .stating("height", Length::from_metres(0.5))
        .feature("far", "planting/shrub", Rect::metres(9.0, 0.0, 9.0, 0.0))
        .feature("oak", "planting/tree", Rect::metres(0.0, 0.0, 0.0, 0.0))
        .subjects(&["oak"])
        .group("others", &["shrub", "far"])
}

#[test]
fn only_what_grows_under_the_crown_is_told() {
    let crown = |metres: f64| tree().stating("spread", Length::from_metres(metres));
    let branch = Length::from_metres(2.0);
    assert_eq!(
        crown(6.0).stating("lowest_branch", branch).ask::<BranchOver>(),
        "oak > shrub: 1.5 m; below_height 0.5 m, other shrub"
    );
    assert_eq!(crown(6.0).ask::<BranchOver>(), "oak > shrub: lacking lowest branch of oak; other shrub");
    assert_eq!(
        crown(3.0).ask::<BranchOver>(),
        "oak: not applicable, nothing of the kind grows under its crown"
    );
    assert_eq!(tree().ask::<BranchOver>(), "oak: lacking crown of oak");
    assert_eq!(
        crown(20.0).stating("lowest_branch", branch).ask::<BranchOver>(),
        "oak > shrub: 1.5 m; below_height 0.5 m, other shrub\noak > far: lacking height of far; other far"
    );
}
