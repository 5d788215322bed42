//! Which way ground faces.

use groundrule_grading::Aspect;
use groundrule_kit::{Angle, Grade, Length, Rect, Sketch};

fn bed() -> Sketch {
    Sketch::new().feature("bed", "planting/bed", Rect::metres(0.0, 0.0, 4.0, 2.0)).subjects(&["bed"])
}

fn sloping() -> Sketch {
    bed().plane(Grade::Proposed, Length::from_metres(10.0), 0.0, 0.05)
}

#[test]
fn the_direction_of_the_fall_is_told() {
    let south = sloping().falling_toward("bed", Angle::from_degrees(180.0));
    // Half a turn, to the thousandth.
    assert_eq!(south.ask::<Aspect>(), "bed: 3.142 rad");
}

#[test]
fn level_ground_faces_nowhere_and_unknown_ground_is_asked_for() {
    assert_eq!(sloping().ask::<Aspect>(), "bed: not applicable, its ground is level");
    assert_eq!(bed().ask::<Aspect>(), "bed: lacking levels of the proposed ground");
}
