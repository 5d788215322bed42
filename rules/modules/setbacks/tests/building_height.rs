//! Heights over the mean of the ground.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_setbacks::BuildingHeight;

fn house() -> Sketch {
    Sketch::new().feature("house", "dwelling", Rect::metres(0.0, 0.0, 10.0, 8.0)).subjects(&["house"])
}

#[test]
fn the_ridge_over_the_mean_of_four_sides() {
    let levels = [100.0, 102.0, 101.0, 99.0].map(Length::from_metres);
    let sketch =
        house().stating("ridge_level", Length::from_metres(131.0)).stating_each("ground_levels", &levels);
    assert_eq!(sketch.ask::<BuildingHeight>(), "house: 30.5 m; mean_ground 100.5 m");
}

#[test]
fn levels_nobody_took_are_lacking() {
    assert_eq!(house().ask::<BuildingHeight>(), "house: lacking ridge level of house");
    let sketch = house().stating("ridge_level", Length::from_metres(131.0));
    assert_eq!(sketch.ask::<BuildingHeight>(), "house: lacking levels of the ground around house");
}
