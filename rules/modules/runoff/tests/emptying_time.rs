//! How long water stands.

use groundrule_kit::{Length, Ratio, Rect, Sketch, Speed};
use groundrule_runoff::EmptyingTime;

fn thing(kind: &str) -> Sketch {
    Sketch::new().feature("t", kind, Rect::metres(0.0, 0.0, 2.0, 2.0)).subjects(&["t"])
}

#[test]
fn depth_over_rate() {
    let rate = Speed::from_metres_per_second(0.001);
    let garden =
        thing("rain-garden").stating("soil_rate", rate).stating("ponding_depth", Length::from_metres(0.15));
    assert_eq!(garden.ask::<EmptyingTime>(), "t: 150 s; water_depth 0.15 m");
    let pit = thing("dry-well")
        .stating("soil_rate", rate)
        .stating("depth", Length::from_metres(1.5))
        .stating("void_share", Ratio::from_percent(40.0));
    assert_eq!(pit.ask::<EmptyingTime>(), "t: 600 s; water_depth 0.6 m");
}

#[test]
fn what_is_not_stated_is_asked_for() {
    assert_eq!(thing("rain-garden").ask::<EmptyingTime>(), "t: lacking soil rate of t, ponding depth of t");
    assert_eq!(thing("dry-well").ask::<EmptyingTime>(), "t: lacking soil rate of t, void share of t");
    let clay = thing("rain-garden")
        .stating("soil_rate", Speed::ZERO)
        .stating("ponding_depth", Length::from_metres(0.15));
    assert_eq!(clay.ask::<EmptyingTime>(), "t: lacking emptying time of t");
}
