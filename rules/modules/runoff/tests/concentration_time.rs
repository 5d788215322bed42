//! Time of concentration.

use groundrule_kit::{Area, Length, Ratio, Rect, Sketch, Time};
use groundrule_runoff::ConcentrationTime;

/// The example of the manual.
fn ground() -> Sketch {
    let path = |sketch: Sketch, name: &str, kind: &str, feet: f64, slope: f64| {
        sketch
            .feature(name, "flow-path", Rect::metres(1.0, 1.0, 9.0, 1.0))
            .stating("flow_type", kind)
            .stating("flow_length", Length::from_feet(feet))
            .stating("slope", Ratio::from_percent(slope))
    };
    let sketch = Sketch::new()
        .feature("a", "area/drainage-area", Rect::metres(0.0, 0.0, 10.0, 10.0))
        .stating("two_year_rain", Length::from_inches(3.6));
    let sketch = path(sketch, "s", "sheet", 100.0, 1.0).stating("roughness", Ratio::from_fraction(0.24));
    let sketch = path(sketch, "t", "shallow", 1400.0, 1.0);
    path(sketch, "c", "channel", 7300.0, 0.5)
        .stating("roughness", Ratio::from_fraction(0.05))
        .stating("flow_area", Area::from_square_feet(27.0))
        .stating("wetted_perimeter", Length::from_feet(28.2))
        .subjects(&["a"])
        .parameter("constant", "us-149")
}

#[test]
fn as_the_manual_has_it() {
    let told = ground().group("paths", &["s", "t", "c"]).ask::<ConcentrationTime>();
    let (whole, facts) = told.split_once("; ").unwrap_or_default();
    let seconds: f64 = whole.trim_start_matches("a: ").trim_end_matches(" s").parse().unwrap_or(0.0);
    assert!((seconds / 3600.0 - 1.528).abs() < 0.0005, "{told}");
    for name in ["sheet_time", "shallow_time", "channel_time"] {
        assert!(facts.contains(name), "{told}");
    }
}

#[test]
fn paving_is_faster_and_the_shortest_time_counts() {
    let shallow = ground().group("paths", &["t"]);
    // 1400 ft at 16.1345 times the root of 1 %.
    assert!(shallow.clone().ask::<ConcentrationTime>().starts_with("a: 867.706 s"));
    let least = shallow.parameter("least", Time::from_hours(1.0)).ask::<ConcentrationTime>();
    assert!(least.starts_with("a: 3600 s"), "{least}");
}

#[test]
fn the_whole_way_by_kirpich() {
    let told = ground().group("paths", &["t"]).parameter("method", "kirpich").ask::<ConcentrationTime>();
    // 0.0078 x 1400^0.77 x 0.01^-0.385 minutes.
    let minutes = 0.0078 * 264.608_75 * 5.888_436_6;
    let seconds: f64 =
        told.trim_start_matches("a: ").split(' ').next().and_then(|it| it.parse().ok()).unwrap_or(0.0);
    assert!((seconds / 60.0 - minutes).abs() < 0.01, "{told} is not {minutes} min");
}

#[test]
fn what_is_not_stated_is_asked_for() {
    let bare = |kind: &str| {
        Sketch::new()
            .feature("a", "lot", Rect::metres(0.0, 0.0, 10.0, 10.0))
            .feature("p", "flow-path", Rect::metres(1.0, 1.0, 9.0, 1.0))
            .stating("flow_type", kind)
            .subjects(&["a"])
            .group("paths", &["p"])
            .ask::<ConcentrationTime>()
    };
    assert_eq!(bare("sheet"), "a: lacking slope of p, roughness of p, two-year rain of a");
    assert_eq!(bare("shallow"), "a: lacking slope of p");
    assert_eq!(
        bare("channel"),
        "a: lacking slope of p, roughness of p, flow area of p, wetted perimeter of p"
    );
    assert_eq!(bare("river"), "a: lacking slope of p, flow type of p");
    assert_eq!(ground().ask::<ConcentrationTime>(), "a: lacking longest way of water on a");
    let long = ground().group("paths", &["s"]).parameter("sheet", Length::from_feet(99.0));
    assert_eq!(long.ask::<ConcentrationTime>(), "a: lacking shorter sheet than s");
}
