//! Fences across a drainage way.

use groundrule_fences::FlowGap;
use groundrule_kit::{Length, Rect, Sketch};

fn fence(from: f64) -> Sketch {
    Sketch::new()
        .feature("way", "area/easement/drainage-easement", Rect::metres(0.0, 0.0, 20.0, 4.0))
        .feature("fence", "structure/fence", Rect::metres(5.0, from, 5.0, 12.0))
        .subjects(&["fence"])
        .group("areas", &["way"])
        .parameter("reach", Length::from_metres(3.0))
}

#[test]
fn the_gap_is_the_stated_one_or_none_of_what_is_solid() {
    assert_eq!(
        fence(1.0).stating("bottom_gap", Length::from_metres(0.1)).ask::<FlowGap>(),
        "fence > way: 0.1 m; inside 3 m, length_inside 3 m"
    );
    assert_eq!(
        fence(1.0).stating("solid", true).ask::<FlowGap>(),
        "fence > way: 0 m; inside 3 m, length_inside 3 m"
    );
    assert_eq!(
        fence(6.0).stating("solid", true).ask::<FlowGap>(),
        "fence > way: 0 m; inside -2 m, length_inside 0 m"
    );
}

#[test]
fn what_stands_on_the_ground_lets_nothing_through() {
    let shed = Sketch::new()
        .feature("way", "area/easement/drainage-easement", Rect::metres(0.0, 0.0, 20.0, 4.0))
        .feature("shed", "structure/shed", Rect::metres(5.0, 3.0, 8.0, 6.0))
        .subjects(&["shed"])
        .group("areas", &["way"])
        .parameter("reach", Length::from_metres(3.0));
    assert_eq!(shed.ask::<FlowGap>(), "shed > way: 0 m; inside 1 m");
}

#[test]
fn what_is_lacking_or_does_not_arise() {
    assert_eq!(
        fence(1.0).ask::<FlowGap>(),
        "fence > way: lacking gap under fence; inside 3 m, length_inside 3 m"
    );
    assert_eq!(fence(9.0).ask::<FlowGap>(), "fence: not applicable, no drainage way is within reach");
}
