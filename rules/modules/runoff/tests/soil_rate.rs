//! How fast soil takes in water.

use groundrule_kit::{Rect, Sketch, Speed};
use groundrule_runoff::SoilRate;

#[test]
fn as_tested_or_asked_for() {
    let sketch = Sketch::new()
        .feature("w", "dry-well", Rect::metres(0.0, 0.0, 2.0, 2.0))
        .stating("soil_rate", Speed::from_metres_per_second(0.25))
        .feature("v", "dry-well", Rect::metres(4.0, 0.0, 6.0, 2.0))
        .subjects(&["w", "v"]);
    assert_eq!(sketch.ask::<SoilRate>(), "w: 0.25 m/s\nv: lacking soil rate of v");
}
