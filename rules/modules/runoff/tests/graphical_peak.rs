//! The graphical peak.

use groundrule_kit::{Length, Ratio, Rect, Sketch, Time};
use groundrule_runoff::GraphicalPeak;

/// The example of the manual: 0.39 square miles in a strip of a mile.
fn ground() -> Sketch {
    let mile = 5280.0 * 0.3048;
    Sketch::new()
        .feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, mile, 0.39 * mile))
        .stating("curve_number", Ratio::from_fraction(75.0))
        .stating("rain_depth", Length::from_inches(6.0))
        .subjects(&["a"])
}

#[test]
fn as_the_manual_has_it() {
    let whole = ground().stating("concentration_time", Time::from_hours(1.53)).stating("storm_type", "ii");
    // 344.2 cfs.
    let told = whole.clone().ask::<GraphicalPeak>();
    assert!(told.starts_with("a: 9.747 m3/s; runoff_depth 0.083 m, concentration_time 5508 s"), "{told}");
    let ponds = whole.clone().parameter("ponds", Ratio::from_percent(3.0)).ask::<GraphicalPeak>();
    // 258.1 cfs.
    assert!(ponds.starts_with("a: 7.31 m3/s;"), "{ponds}");
    let slow = whole.stating("concentration_time", Time::from_hours(11.0)).ask::<GraphicalPeak>();
    assert_eq!(slow, "a: lacking peak flow of a");
}

#[test]
fn what_is_not_stated_is_asked_for() {
    assert_eq!(
        ground().stating("storm_type", "V").ask::<GraphicalPeak>(),
        "a: lacking concentration time of a, storm type of a"
    );
}
