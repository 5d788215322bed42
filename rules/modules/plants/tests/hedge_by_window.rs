//! Hedges and windows, on a lot of 20 m by 40 m.

use groundrule_kit::{Length, Rect, Sketch};
use groundrule_plants::HedgeByWindow;

fn hedge() -> Sketch {
    Sketch::new()
        .lot("lot", Rect::metres(0.0, 0.0, 20.0, 40.0))
        .feature("window", "opening/window", Rect::metres(6.0, 20.0, 6.0, 20.0))
        .feature("hedge", "planting/hedge", Rect::metres(1.0, 10.0, 1.0, 30.0))
        .subjects(&["hedge"])
        .group("windows", &["window"])
        .group("lines", &["lot.w", "lot.e"])
}

#[test]
fn beside_counts_to_the_line_and_opposite_to_the_hedge() {
    let tall = hedge().stating("height", Length::from_metres(2.5));
    assert_eq!(
        tall.clone().parameter("faces", "beside").ask::<HedgeByWindow>(),
        "hedge > window: 2.5 m; window window, window_distance 6 m"
    );
    assert_eq!(
        tall.clone().ask::<HedgeByWindow>(),
        "hedge > window: 2.5 m; window window, window_distance 5 m"
    );
    assert_eq!(
        tall.group("windows", &[]).ask::<HedgeByWindow>(),
        "hedge: not applicable, there is no window to take light from"
    );
    assert_eq!(
        hedge().ask::<HedgeByWindow>(),
        "hedge > window: lacking height of hedge; window window, window_distance 5 m"
    );
}
