//! Heights of a fence over either side.

use groundrule_fences::Height;
use groundrule_kit::{Length, Rect, Sketch};

fn fence() -> Sketch {
    Sketch::new().feature("fence", "fence", Rect::feet(0.0, 0.0, 40.0, 0.0)).subjects(&["fence"])
}

fn feet<const N: usize>(feet: [f64; N]) -> [Length; N] {
    feet.map(Length::from_feet)
}

#[test]
fn one_fence_over_a_step_has_two_heights() {
    // A fence of 6 ft where the ground is 2 ft lower beyond it stands 8 ft over that side.
    let fence =
        fence().stating("height", Length::from_feet(6.0)).stating("ground_step", Length::from_feet(2.0));
    assert_eq!(fence.ask::<Height>(), "fence: 1.829 m");
    assert_eq!(fence.clone().parameter("side", "low").ask::<Height>(), "fence: 2.438 m");
    assert_eq!(fence.parameter("side", "high").ask::<Height>(), "fence: 1.829 m");
}

#[test]
fn the_one_high_spot_among_stations_is_found() {
    // Every 2 ft; the stretch at 6 ft along stands 4.5 ft, all else 4 ft.
    let wall = fence()
        .stating_each("stations", &feet([0.0, 2.0, 4.0, 6.0, 8.0]))
        .stating_each("heights", &feet([4.0, 4.0, 4.0, 4.5, 4.0]));
    assert_eq!(wall.ask::<Height>(), "fence: 1.372 m; station 1.829 m");
    let low = wall.stating_each("low_heights", &feet([4.0, 5.0, 4.0, 4.5, 4.0]));
    assert_eq!(low.parameter("side", "low").ask::<Height>(), "fence: 1.524 m; station 0.61 m");
}

#[test]
fn what_is_not_stated_is_asked_for() {
    assert_eq!(fence().ask::<Height>(), "fence: lacking height of fence");
    let level = fence().stating("height", Length::from_feet(6.0)).parameter("side", "low");
    assert_eq!(level.ask::<Height>(), "fence: lacking height of fence over the lower ground");
    let told = fence().parameter("side", "north").ask::<Height>();
    assert!(told.starts_with("refused: parameter `side` is \"north\""), "{told}");
}
