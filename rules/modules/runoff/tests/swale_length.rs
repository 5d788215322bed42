//! Length of a swale beside its paving.

use groundrule_kit::{Area, Length, Rect, Sketch};
use groundrule_runoff::SwaleLength;

fn lot() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 100.0, 100.0))
        .feature("s", "swale", Rect::metres(0.0, 0.0, 30.0, 0.0))
        .on("lot")
        .feature("court", "paving", Rect::metres(0.0, 10.0, 20.0, 20.0))
        .on("lot")
        .subjects(&["s"])
        .group("paving", &["court"])
}

#[test]
fn drawn_or_stated() {
    assert_eq!(lot().ask::<SwaleLength>(), "s: 30 m; paved_area 200 m2");
    let stated = Sketch::new()
        .undrawn("s", "swale")
        .stating("flow_length", Length::from_metres(40.0))
        .stating("drained_area", Area::from_square_metres(500.0))
        .subjects(&["s"]);
    assert_eq!(stated.ask::<SwaleLength>(), "s: 40 m; paved_area 500 m2");
}

#[test]
fn without_paving_there_is_none_to_clean() {
    assert_eq!(lot().group("paving", &[]).ask::<SwaleLength>(), "s: 30 m; paved_area 0 m2");
    let undrawn = Sketch::new().undrawn("s", "swale").subjects(&["s"]);
    assert!(undrawn.ask::<SwaleLength>().starts_with("s: lacking"), "its length is neither drawn nor stated");
}
