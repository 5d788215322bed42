//! Fences on walls.

use groundrule_fences::HeightOnWall;
use groundrule_kit::{Length, Rect, Sketch};

fn fence_and_wall(apart: f64) -> Sketch {
    Sketch::new()
        .feature("fence", "fence", Rect::metres(0.0, 0.0, 10.0, 0.0))
        .stating("height", Length::from_metres(1.8))
        .feature("wall", "wall", Rect::metres(2.0, apart, 9.0, apart))
        .subjects(&["fence"])
        .group("walls", &["wall"])
}

#[test]
fn the_two_heights_are_added_where_they_stand_together() {
    let wall = |apart| fence_and_wall(apart).stating("height", Length::from_metres(1.2));
    let both = "fence > wall: 3 m; fence_height 1.8 m, wall_height 1.2 m";
    assert_eq!(wall(0.0).ask::<HeightOnWall>(), both);
    assert_eq!(wall(0.2).ask::<HeightOnWall>(), "fence: not applicable, it stands on no wall");
    assert_eq!(wall(0.2).parameter("reach", Length::from_metres(0.3)).ask::<HeightOnWall>(), both);
}

#[test]
fn a_height_nobody_stated_is_lacking() {
    assert_eq!(fence_and_wall(0.0).ask::<HeightOnWall>(), "fence > wall: lacking height of wall");
}
